// Judge: the whole conformal map from positions, two pins, on one thread.
//   eigen    the real form of 2n − 4 unknowns, Dirichlet energy minus area, Eigen's SimplicialLDLT (what general libraries do)
//   cholmod  the Hermitian form of n − 2 unknowns, CHOLMOD with approximate minimum degree
// Usage: flatten-conformal MODE MESH MAP PIN PIN REPEATS. MESH: counts, then positions (3n doubles), then faces (3m int32). MAP: 2n doubles.
// Prints one line of JSON a repeat.
#include <Eigen/SparseCholesky>
#include <chrono>
#include <complex>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <suitesparse/cholmod.h>
#include <vector>

static double now() { return std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count(); }

struct Mesh {
  int n, m;
  std::vector<double> p;
  std::vector<int> f;
};

static Mesh readMesh(const char *path) {
  Mesh mesh;
  FILE *file = fopen(path, "rb");
  int32_t counts[2];
  if (!file || fread(counts, 4, 2, file) != 2) exit(3);
  mesh.n = counts[0];
  mesh.m = counts[1];
  mesh.p.resize(3 * mesh.n);
  mesh.f.resize(3 * mesh.m);
  if (fread(mesh.p.data(), 8, mesh.p.size(), file) != mesh.p.size()) exit(3);
  if (fread(mesh.f.data(), 4, mesh.f.size(), file) != mesh.f.size()) exit(3);
  fclose(file);
  return mesh;
}

struct Entry {
  int row, column;
  double weight, turn;
};

// Every half-edge a → b gives −w + i/2 at (a, b), its conjugate at (b, a) and w on both diagonals; inside, the imaginary parts cancel.
template <class Act> static void forEachHalfEdge(const Mesh &mesh, Act act) {
  for (int t = 0; t < mesh.m; t++) {
    for (int k = 0; k < 3; k++) {
      const int a = mesh.f[3 * t + k], b = mesh.f[3 * t + (k + 1) % 3], c = mesh.f[3 * t + (k + 2) % 3];
      double u[3], v[3];
      for (int i = 0; i < 3; i++) {
        u[i] = mesh.p[3 * a + i] - mesh.p[3 * c + i];
        v[i] = mesh.p[3 * b + i] - mesh.p[3 * c + i];
      }
      const double x = u[1] * v[2] - u[2] * v[1], y = u[2] * v[0] - u[0] * v[2], z = u[0] * v[1] - u[1] * v[0];
      act(a, b, 0.5 * (u[0] * v[0] + u[1] * v[1] + u[2] * v[2]) / std::sqrt(x * x + y * y + z * z));
    }
  }
}

static std::vector<double> solveEigen(const Mesh &mesh, int pin0, int pin1, double distance) {
  const int n = mesh.n;
  std::vector<int> unknown(n, -1);
  int count = 0;
  for (int v = 0; v < n; v++)
    if (v != pin0 && v != pin1) unknown[v] = count++;
  std::vector<Eigen::Triplet<double>> list;
  list.reserve(36 * mesh.m);
  Eigen::VectorXd right = Eigen::VectorXd::Zero(2 * count);
  // Real form: x block and y block; coupling of (a, b) is ±1/2.
  auto add = [&](int i, int j, double value, double turn) {
    if (unknown[i] < 0) return;
    const int r = unknown[i];
    if (unknown[j] < 0) {
      if (j == pin1) {
        right[r] -= value * distance;
        right[count + r] -= turn * distance;
      }
      return;
    }
    const int c = unknown[j];
    list.emplace_back(r, c, value);
    list.emplace_back(count + r, count + c, value);
    if (turn != 0) {
      list.emplace_back(r, count + c, -turn);
      list.emplace_back(count + r, c, turn);
    }
  };
  forEachHalfEdge(mesh, [&](int a, int b, double w) {
    add(a, b, -w, 0.5);
    add(b, a, -w, -0.5);
    add(a, a, w, 0);
    add(b, b, w, 0);
  });
  Eigen::SparseMatrix<double> matrix(2 * count, 2 * count);
  matrix.setFromTriplets(list.begin(), list.end());
  Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>> solver(matrix);
  const Eigen::VectorXd x = solver.solve(right);
  std::vector<double> map(2 * n, 0);
  map[2 * pin1] = distance;
  for (int v = 0; v < n; v++)
    if (unknown[v] >= 0) {
      map[2 * v] = x[unknown[v]];
      map[2 * v + 1] = x[count + unknown[v]];
    }
  return map;
}

static std::vector<double> solveCholmod(const Mesh &mesh, int pin0, int pin1, double distance) {
  const int n = mesh.n;
  std::vector<int> unknown(n, -1);
  int count = 0;
  for (int v = 0; v < n; v++)
    if (v != pin0 && v != pin1) unknown[v] = count++;
  std::vector<double> rightReal(count, 0), rightImaginary(count, 0);
  std::vector<Eigen::Triplet<std::complex<double>>> list;
  list.reserve(9 * mesh.m);
  auto add = [&](int i, int j, double value, double turn) {
    if (unknown[i] < 0) return;
    const int r = unknown[i];
    if (unknown[j] < 0) {
      if (j == pin1) {
        rightReal[r] -= value * distance;
        rightImaginary[r] -= turn * distance;
      }
      return;
    }
    if (unknown[j] <= r) list.emplace_back(r, unknown[j], std::complex<double>(value, turn));
  };
  forEachHalfEdge(mesh, [&](int a, int b, double w) {
    add(a, b, -w, 0.5);
    add(b, a, -w, -0.5);
    add(a, a, w, 0);
    add(b, b, w, 0);
  });
  Eigen::SparseMatrix<std::complex<double>> matrix(count, count);
  matrix.setFromTriplets(list.begin(), list.end());
  cholmod_common common;
  cholmod_start(&common);
  common.nmethods = 1;
  common.method[0].ordering = CHOLMOD_AMD;
  common.postorder = 1;
  cholmod_sparse view;
  memset(&view, 0, sizeof view);
  view.nrow = view.ncol = count;
  view.nzmax = matrix.nonZeros();
  view.p = matrix.outerIndexPtr();
  view.i = matrix.innerIndexPtr();
  view.x = matrix.valuePtr();
  view.stype = -1;
  view.itype = CHOLMOD_INT;
  view.xtype = CHOLMOD_COMPLEX;
  view.dtype = CHOLMOD_DOUBLE;
  view.sorted = view.packed = 1;
  cholmod_dense *right = cholmod_allocate_dense(count, 1, count, CHOLMOD_COMPLEX, &common);
  for (int i = 0; i < count; i++) {
    ((double *)right->x)[2 * i] = rightReal[i];
    ((double *)right->x)[2 * i + 1] = rightImaginary[i];
  }
  cholmod_factor *factor = cholmod_analyze(&view, &common);
  cholmod_factorize(&view, factor, &common);
  cholmod_dense *x = cholmod_solve(CHOLMOD_A, factor, right, &common);
  std::vector<double> map(2 * n, 0);
  map[2 * pin1] = distance;
  for (int v = 0; v < n; v++)
    if (unknown[v] >= 0) {
      map[2 * v] = ((double *)x->x)[2 * unknown[v]];
      map[2 * v + 1] = ((double *)x->x)[2 * unknown[v] + 1];
    }
  cholmod_free_dense(&x, &common);
  cholmod_free_factor(&factor, &common);
  cholmod_free_dense(&right, &common);
  cholmod_finish(&common);
  return map;
}

int main(int count, char **words) {
  if (count < 7) return 2;
  const Mesh mesh = readMesh(words[2]);
  const int pin0 = atoi(words[4]), pin1 = atoi(words[5]);
  double squared = 0;
  for (int i = 0; i < 3; i++) {
    const double d = mesh.p[3 * pin0 + i] - mesh.p[3 * pin1 + i];
    squared += d * d;
  }
  for (int repeat = 0; repeat < atoi(words[6]); repeat++) {
    const double start = now();
    const bool isEigen = strcmp(words[1], "eigen") == 0;
    const std::vector<double> map = isEigen ? solveEigen(mesh, pin0, pin1, std::sqrt(squared)) : solveCholmod(mesh, pin0, pin1, std::sqrt(squared));
    printf("{\"seconds\":%.6f}\n", now() - start);
    if (repeat > 0) continue;
    FILE *file = fopen(words[3], "wb");
    fwrite(map.data(), 8, map.size(), file);
    fclose(file);
  }
  return 0;
}

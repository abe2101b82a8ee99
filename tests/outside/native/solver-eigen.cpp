// Judge: Eigen's SimplicialLDLT (approximate minimum degree) on the real form (A −B; B A) of the Hermitian system A + iB.
// Usage: solver-eigen SYSTEM SOLUTION REPEATS; prints one line of JSON a repeat.
#include "system.h"
#include <Eigen/SparseCholesky>

int main(int count, char **words) {
  if (count < 4) return 2;
  const System s = readSystem(words[1]);
  const int n = s.size;
  for (int repeat = 0; repeat < atoi(words[3]); repeat++) {
    std::vector<Eigen::Triplet<double>> list;
    list.reserve(4 * s.entries);
    for (int j = 0; j < n; j++) {
      for (int q = s.start[j]; q < s.start[j + 1]; q++) {
        const int i = s.row[q];
        const double a = s.real[q], b = s.imaginary[q];
        list.emplace_back(i, j, a);
        list.emplace_back(n + i, n + j, a);
        if (b == 0) continue;
        list.emplace_back(n + i, j, b);
        list.emplace_back(n + j, i, -b);
      }
    }
    Eigen::SparseMatrix<double> matrix(2 * n, 2 * n);
    matrix.setFromTriplets(list.begin(), list.end());
    Eigen::VectorXd right(2 * n);
    for (int i = 0; i < n; i++) {
      right[i] = s.rightReal[i];
      right[n + i] = s.rightImaginary[i];
    }
    const double t0 = now();
    Eigen::SimplicialLDLT<Eigen::SparseMatrix<double>, Eigen::Lower> solver;
    solver.analyzePattern(matrix);
    const double t1 = now();
    solver.factorize(matrix);
    const double t2 = now();
    const Eigen::VectorXd x = solver.solve(right);
    const double t3 = now();
    printf("{\"analyse\":%.3f,\"factor\":%.3f,\"solve\":%.3f,\"total\":%.3f,\"nonzeros\":%ld}\n", t1 - t0, t2 - t1, t3 - t2, t3 - t0,
           (long)solver.matrixL().nestedExpression().nonZeros());
    if (repeat == 0) {
      std::vector<double> real(n), imaginary(n);
      for (int i = 0; i < n; i++) {
        real[i] = x[i];
        imaginary[i] = x[n + i];
      }
      writeSolution(words[2], real, imaginary);
    }
  }
  return 0;
}

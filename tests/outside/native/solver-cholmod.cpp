// Judge: CHOLMOD's complex Hermitian factorisation, supernodal where it chooses to, approximate minimum degree.
// Usage: solver-cholmod SYSTEM SOLUTION REPEATS; prints one line of JSON a repeat.
#include "system.h"
#include <suitesparse/cholmod.h>

int main(int count, char **words) {
  if (count < 4) return 2;
  const System s = readSystem(words[1]);
  cholmod_common common;
  cholmod_start(&common);
  common.nmethods = 1;
  common.method[0].ordering = CHOLMOD_AMD;
  common.postorder = 1;
  cholmod_sparse *matrix = cholmod_allocate_sparse(s.size, s.size, s.entries, 1, 1, -1, CHOLMOD_COMPLEX, &common);
  for (int j = 0; j <= s.size; j++) ((int *)matrix->p)[j] = s.start[j];
  for (int q = 0; q < s.entries; q++) {
    ((int *)matrix->i)[q] = s.row[q];
    ((double *)matrix->x)[2 * q] = s.real[q];
    ((double *)matrix->x)[2 * q + 1] = s.imaginary[q];
  }
  cholmod_dense *right = cholmod_allocate_dense(s.size, 1, s.size, CHOLMOD_COMPLEX, &common);
  for (int i = 0; i < s.size; i++) {
    ((double *)right->x)[2 * i] = s.rightReal[i];
    ((double *)right->x)[2 * i + 1] = s.rightImaginary[i];
  }
  for (int repeat = 0; repeat < atoi(words[3]); repeat++) {
    const double t0 = now();
    cholmod_factor *factor = cholmod_analyze(matrix, &common);
    const double t1 = now();
    cholmod_factorize(matrix, factor, &common);
    const double t2 = now();
    cholmod_dense *x = cholmod_solve(CHOLMOD_A, factor, right, &common);
    const double t3 = now();
    printf("{\"analyse\":%.3f,\"factor\":%.3f,\"solve\":%.3f,\"total\":%.3f,\"nonzeros\":%.0f,\"flops\":%.0f}\n", t1 - t0, t2 - t1, t3 - t2,
           t3 - t0, common.lnz, common.fl);
    if (repeat == 0) {
      std::vector<double> real(s.size), imaginary(s.size);
      for (int i = 0; i < s.size; i++) {
        real[i] = ((double *)x->x)[2 * i];
        imaginary[i] = ((double *)x->x)[2 * i + 1];
      }
      writeSolution(words[2], real, imaginary);
    }
    cholmod_free_dense(&x, &common);
    cholmod_free_factor(&factor, &common);
  }
  cholmod_free_dense(&right, &common);
  cholmod_free_sparse(&matrix, &common);
  cholmod_finish(&common);
  return 0;
}

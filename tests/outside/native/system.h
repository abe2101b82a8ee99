// A Hermitian system from a file, as tests write it: int32 size, int32 entries, column starts, rows (lower triangle, compressed columns),
// real parts, imaginary parts, right-hand side real and imaginary. Times in milliseconds, one thread.
#pragma once
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <vector>

struct System {
  int32_t size = 0, entries = 0;
  std::vector<int32_t> start, row;
  std::vector<double> real, imaginary, rightReal, rightImaginary;
};

template <class T> static void readInto(std::vector<T> &target, size_t count, FILE *file) {
  target.resize(count);
  if (fread(target.data(), sizeof(T), count, file) != count) {
    fprintf(stderr, "the file ends early\n");
    exit(1);
  }
}

static System readSystem(const char *path) {
  FILE *file = fopen(path, "rb");
  if (!file) {
    fprintf(stderr, "cannot open %s\n", path);
    exit(1);
  }
  System s;
  std::vector<int32_t> head;
  readInto(head, 2, file);
  s.size = head[0];
  s.entries = head[1];
  readInto(s.start, s.size + 1, file);
  readInto(s.row, s.entries, file);
  readInto(s.real, s.entries, file);
  readInto(s.imaginary, s.entries, file);
  readInto(s.rightReal, s.size, file);
  readInto(s.rightImaginary, s.size, file);
  fclose(file);
  return s;
}

static double now() {
  return std::chrono::duration<double, std::milli>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

static void writeSolution(const char *path, const std::vector<double> &real, const std::vector<double> &imaginary) {
  FILE *file = fopen(path, "wb");
  if (!file) exit(1);
  fwrite(real.data(), sizeof(double), real.size(), file);
  fwrite(imaginary.data(), sizeof(double), imaginary.size(), file);
  fclose(file);
}

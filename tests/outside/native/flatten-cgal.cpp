// Judge: CGAL's as-rigid-as-possible parameterisation (and its conformal start), with its own default pins and lambda.
// Usage: flatten-cgal MESH MAP. MESH: counts, then positions (3n doubles), then faces (3m int32). MAP: 2n doubles. Prints one line of JSON.
#include <CGAL/Simple_cartesian.h>
#include <CGAL/Surface_mesh.h>
#include <CGAL/Surface_mesh_parameterization/ARAP_parameterizer_3.h>
#include <CGAL/Surface_mesh_parameterization/Error_code.h>
#include <CGAL/Surface_mesh_parameterization/parameterize.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <vector>

namespace SMP = CGAL::Surface_mesh_parameterization;
typedef CGAL::Simple_cartesian<double> Kernel;
typedef CGAL::Surface_mesh<Kernel::Point_3> Mesh;
typedef boost::graph_traits<Mesh>::halfedge_descriptor Halfedge;

int main(int count, char **words) {
  if (count < 3) return 2;
  FILE *file = fopen(words[1], "rb");
  int32_t counts[2];
  if (!file || fread(counts, 4, 2, file) != 2) return 3;
  std::vector<double> p(3 * counts[0]);
  std::vector<int32_t> f(3 * counts[1]);
  if (fread(p.data(), 8, p.size(), file) != p.size() || fread(f.data(), 4, f.size(), file) != f.size()) return 3;
  fclose(file);
  Mesh mesh;
  std::vector<Mesh::Vertex_index> vertices;
  for (int v = 0; v < counts[0]; v++) vertices.push_back(mesh.add_vertex(Kernel::Point_3(p[3 * v], p[3 * v + 1], p[3 * v + 2])));
  for (int t = 0; t < counts[1]; t++) mesh.add_face(vertices[f[3 * t]], vertices[f[3 * t + 1]], vertices[f[3 * t + 2]]);
  const Halfedge border = CGAL::Polygon_mesh_processing::longest_border(mesh).first;
  Mesh::Property_map<Mesh::Vertex_index, Kernel::Point_2> map = mesh.add_property_map<Mesh::Vertex_index, Kernel::Point_2>("v:map").first;
  const auto start = std::chrono::steady_clock::now();
  SMP::ARAP_parameterizer_3<Mesh> parameterizer;
  const SMP::Error_code code = SMP::parameterize(mesh, parameterizer, border, map);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
  printf("{\"seconds\":%.6f,\"code\":%d}\n", seconds, (int)code);
  FILE *out = fopen(words[2], "wb");
  for (int v = 0; v < counts[0]; v++) {
    const double uv[2] = {map[vertices[v]].x(), map[vertices[v]].y()};
    fwrite(uv, 8, 2, out);
  }
  fclose(out);
  return 0;
}

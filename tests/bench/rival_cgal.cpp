#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/AABB_triangle_primitive.h>
#include <CGAL/Simple_cartesian.h>

#include "rivals.h"

namespace standpoint::bench {
namespace {

using Kernel = CGAL::Simple_cartesian<double>;
using Triangles = std::vector<Kernel::Triangle_3>;
using Primitive = CGAL::AABB_triangle_primitive<Kernel, Triangles::const_iterator>;
using Aabb = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, Primitive>>;

Kernel::Point_3 to_cgal(const Vec3& v) {
  return {v.x(), v.y(), v.z()};
}

}  // namespace

struct CgalTree::Parts {
  Triangles triangles;
  Aabb tree;
};

CgalTree::CgalTree(const std::vector<Mesh>& bodies) : parts_(std::make_unique<Parts>()) {
  for (const Mesh& mesh : bodies) {
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
      const auto t = mesh.corners(i);
      parts_->triangles.emplace_back(to_cgal(t[0]), to_cgal(t[1]), to_cgal(t[2]));
    }
  }
  parts_->tree.insert(parts_->triangles.cbegin(), parts_->triangles.cend());
  parts_->tree.build();
}

CgalTree::~CgalTree() = default;

bool CgalTree::is_axis_blocked(const RoundCone& beam) const {
  return parts_->tree.do_intersect(Kernel::Segment_3(to_cgal(beam.start), to_cgal(beam.end)));
}

}  // namespace standpoint::bench

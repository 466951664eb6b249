#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {
namespace {

class Extrusion final : public SurfaceKind {
  public:
    std::optional<Parameter> extruded_along() const override { return Parameter::v; }
    /// The rulings of an extruded curve reach the boundary: no section of it is a loop.
    std::optional<std::vector<Point2>> section_seeds(const solid::FaceSurface&,
                                                     double) const override {
        return std::vector<Point2>{};
    }
};

}  // namespace

const SurfaceKind& extrusion_kind() {
    static const Extrusion kind;
    return kind;
}

}  // namespace planform::flatten

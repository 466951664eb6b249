#include "flatten/bounds/revolution_bound.hpp"
#include "flatten/kinds/revolution_section.hpp"
#include "flatten/kinds/surface_kind.hpp"

namespace planform::flatten {
namespace {

class Revolution final : public SurfaceKind {
  public:
    std::optional<Range> facing_range(const solid::FaceSurface& surface, int outward,
                                      const Box2& box) const override {
        const std::optional<Range> bound = bound_revolution(surface, box, edge_on);
        if (!bound) return std::nullopt;
        return static_cast<double>(outward) * *bound;
    }
    std::optional<std::vector<Branch>> section(const solid::FaceSurface& surface,
                                               double level) const override {
        return revolution_section(surface, level);
    }
    std::optional<std::vector<Point2>> section_seeds(const solid::FaceSurface& surface,
                                                     double level) const override {
        return revolution_seeds(surface, level);
    }
};

}  // namespace

const SurfaceKind& revolution_kind() {
    static const Revolution kind;
    return kind;
}

}  // namespace planform::flatten

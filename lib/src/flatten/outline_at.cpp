#include <optional>
#include <set>
#include <string>

#include "flatten/cap_levels.hpp"
#include "flatten/face_lean.hpp"
#include "flatten/flatten_solids.hpp"
#include "flatten/solid_outline.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"

namespace planform::flatten {
namespace {

/// Notation: a line along the normal through a point of the outline at the bottom starts in the
/// material; it stays there up to the top unless it leaves through a face that looks up, below the
/// top. So material stands through the full thickness where the outline at the bottom is and none
/// of those sheets.
class OutlineAt {
  public:
    OutlineAt(const Solid& solid, const Datum& datum, int index, double tolerance, Outline& outline)
        : shape_(shape_of(solid)),
          datum_(datum),
          index_(index),
          tolerance_(tolerance),
          outline_(outline),
          solid_(closed_graph()),
          caps_(cap_levels(solid_, flat_faces(solid_))) {}

    void add_top() { add_cut(level(caps_.top, "top").low, Side::below); }
    void add_bottom() { add_cut(level(caps_.bottom, "bottom").high, Side::above); }

    void add_through() {
        const double top = level(caps_.top, "top").low;
        add_bottom();
        const double bottom = level(caps_.bottom, "bottom").high;
        std::set<int> between;  // numbers of faces
        for (std::size_t i = 0; i < solid_.graph().faces.size(); ++i)
            if (is_between(i, bottom, top)) between.insert(solid_.graph().faces[i].number);
        outline_.set_operand(1);
        ShapeGraph graph = build_shape_graph(shape_, datum_, EdgeReading::on_demand);
        add_silhouette(graph, index_, tolerance_, outline_,
                       [&](const GraphFace& face) { return between.contains(face.number); });
    }

  private:
    ShapeGraph closed_graph() const {
        ShapeGraph graph = build_shape_graph(shape_, datum_);
        check_closed(graph);
        return graph;
    }

    const HeightRange& level(const std::optional<HeightRange>& cap,
                             const std::string& where) const {
        if (cap) return *cap;
        throw GeometryError(ErrorKind::invalid_argument,
                            "no flat face of it is its " + where +
                                " along the datum's normal; take the shadow, or another datum");
    }

    void add_cut(double height, Side side) {
        add_section(solid_, {height, side}, index_, tolerance_, outline_);
    }

    /// Can a line on its way from the bottom to the top leave the material through this face?
    bool is_between(std::size_t index, double bottom, double top) const {
        HeightRange range = solid_.face_range(index);
        const auto is_inside = [&] {
            return range.low >= bottom - straight_within && range.high <= top + straight_within;
        };
        if (!is_inside()) {  // a bound that is not tight?
            if (is_straight_wall(solid_, index)) return false;
            const Box3 box = face_box(solid_, index);
            range = {box.min().z(), box.max().z()};
        }
        if (range.low >= top - straight_within || range.high <= bottom + straight_within)
            return false;
        if (is_inside()) return true;
        throw GeometryError(ErrorKind::face_not_flattened,
                            "face " + std::to_string(solid_.graph().faces[index].number) +
                                " slants past the top or the bottom, so that what stands through "
                                "the full thickness can't be told; take the top, the bottom or "
                                "the shadow");
    }

    const TopoDS_Shape& shape_;
    const Datum& datum_;
    int index_;
    double tolerance_;
    Outline& outline_;
    SectionSolid solid_;
    CapLevels caps_;
};

}  // namespace

void add_outline_at(const Solid& solid, const Datum& datum, At at, int index, double tolerance,
                    Outline& outline) {
    OutlineAt way(solid, datum, index, tolerance, outline);
    if (at == At::top) way.add_top();
    if (at == At::bottom) way.add_bottom();
    if (at == At::through) way.add_through();
}

}  // namespace planform::flatten

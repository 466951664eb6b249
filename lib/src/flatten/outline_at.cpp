#include "flatten/outline_at.hpp"

#include <BRepAlgoAPI_Common.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <TopLoc_Location.hxx>
#include <gp_Ax2.hxx>
#include <optional>
#include <set>
#include <string>

#include "flatten/collect/flatten_solids.hpp"
#include "flatten/collect/plane_moves.hpp"
#include "flatten/section/section.hpp"
#include "flatten/silhouette/silhouette.hpp"
#include "model/body/solid_data.hpp"
#include "model/kernel/own_copy.hpp"
#include "model/kernel/points.hpp"
#include "model/measure/bounds.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"
#include "solid/cap_levels.hpp"
#include "solid/face_lean.hpp"

namespace planform::flatten {
namespace {

/// Notation: a line along the normal through a point of the outline at the bottom starts in the
/// material; it stays there up to the top unless it leaves through a face that looks up, below the
/// top. So material stands through the full thickness where the outline at the bottom is and none
/// of those sheets.
class OutlineAt {
  public:
    OutlineAt(const Solid& solid, const Datum& datum, int index, double tolerance, double move,
              Outline& outline)
        : shape_(shape_of(solid)),
          datum_(datum),
          index_(index),
          tolerance_(tolerance),
          move_(move),
          outline_(outline),
          solid_(closed_graph()),
          caps_(solid::cap_levels(solid_, solid::flat_faces(solid_))) {}

    void add_top() { add_cut(top(), Side::below); }
    void add_bottom() { add_cut(bottom(), Side::above); }

    void add_through() {
        const double low = bottom(), high = top();
        add_bottom();
        outline_.set_operand(1);
        if (const int crossing = face_across(low, high)) {
            const TopoDS_Shape slice = slice_between(low, high, crossing);
            add_inner_sheets(slice, solid::SectionSolid(solid::build_shape_graph(slice, datum_)),
                             low, high);
        } else {
            add_inner_sheets(shape_, solid_, low, high);
        }
    }

  private:
    solid::ShapeGraph closed_graph() const {
        solid::ShapeGraph graph = solid::build_shape_graph(shape_, datum_);
        check_closed(graph);
        return graph;
    }

    double top() const { return level(caps_.top, "top").low - move_; }
    double bottom() const { return level(caps_.bottom, "bottom").high + move_; }

    const solid::HeightRange& level(const std::optional<solid::HeightRange>& cap,
                                    const std::string& where) const {
        if (cap) return *cap;
        throw GeometryError(ErrorKind::invalid_argument,
                            "no flat face of it is its " + where +
                                " along the datum's normal; take the shadow, or another datum");
    }

    void add_cut(double height, Side side) {
        if (move_ > 0.0 && !is_clear_of_vertices(solid_.graph(), height, move_))
            throw GeometryError(ErrorKind::face_not_flattened, "a vertex lies in the moved plane");
        add_section(solid_, {height, side}, index_, tolerance_, outline_);
    }

    /// Adds the sheets that look up of the faces that lie between the caps.
    void add_inner_sheets(const TopoDS_Shape& shape, const solid::SectionSolid& solid,
                          double bottom, double top) {
        std::set<int> between;  // numbers of faces
        for (std::size_t i = 0; i < solid.graph().faces.size(); ++i) {
            const solid::HeightRange& range = solid.face_range(i);
            if (range.low < top - solid::straight_within &&
                range.high > bottom + solid::straight_within)
                between.insert(solid.graph().faces[i].number);
        }
        solid::ShapeGraph graph =
            solid::build_shape_graph(shape, datum_, solid::EdgeReading::on_demand);
        add_silhouette(graph, model::area_vectors(shape.Located({})),
                       {index_,
                        tolerance_,
                        [&](const solid::GraphFace& face) { return between.contains(face.number); },
                        Verify::quick,
                        {},
                        nullptr},
                       outline_);
    }

    /// Number of a face that leans and lies on both sides of the top or of the bottom; 0 if none
    /// does.
    int face_across(double bottom, double top) const {
        for (std::size_t i = 0; i < solid_.graph().faces.size(); ++i) {
            solid::HeightRange range = solid_.face_range(i);
            const auto crosses = [&](double level) {
                return range.low < level - solid::straight_within &&
                       range.high > level + solid::straight_within;
            };
            if (!crosses(bottom) && !crosses(top)) continue;
            if (solid::is_straight_wall(solid_, i)) continue;
            const Box3 box = solid::face_box(solid_, i);  // the bound may not be tight
            range = {box.min().z(), box.max().z()};
            if (crosses(bottom) || crosses(top)) return solid_.graph().faces[i].number;
        }
        return 0;
    }

    /// The part of the solid between two heights, by the kernel.
    TopoDS_Shape slice_between(double bottom, double top, int face) const {
        const Box3 box =
            model::tight_box(shape_.Moved(TopLoc_Location(solid::datum_transform(datum_))));
        const double margin = box.diagonal().norm();
        const Vector2 size = box.sizes().head<2>() + Vector2::Constant(2.0 * margin);
        const Point3 corner =
            datum_.to_model(box.min().head<2>() - Vector2::Constant(margin), bottom);
        const gp_Ax2 frame(model::to_kernel_point(corner),
                           model::to_kernel_direction(datum_.normal()),
                           model::to_kernel_direction(datum_.x()));
        BRepAlgoAPI_Common common(
            model::own_copy(shape_),
            BRepPrimAPI_MakeBox(frame, size.x(), size.y(), top - bottom).Shape());
        if (common.IsDone()) {
            const TopoDS_Shape slice = common.Shape();
            const solid::ShapeGraph graph = solid::build_shape_graph(slice, datum_);
            if (graph.closed && !graph.faces.empty()) return slice;
        }
        throw GeometryError(ErrorKind::face_not_flattened,
                            "face " + std::to_string(face) +
                                " slants past the top or the bottom, and the kernel can't cut it "
                                "off there; take the top, the bottom or the shadow");
    }

    const TopoDS_Shape& shape_;
    const Datum& datum_;
    int index_;
    double tolerance_;
    double move_;
    Outline& outline_;
    solid::SectionSolid solid_;
    solid::CapLevels caps_;
};

}  // namespace

void add_outline_at(const Solid& solid, const Datum& datum, At at, int index, double tolerance,
                    double move, Outline& outline) {
    OutlineAt way(solid, datum, index, tolerance, move, outline);
    if (at == At::top) way.add_top();
    if (at == At::bottom) way.add_bottom();
    if (at == At::through) way.add_through();
}

}  // namespace planform::flatten

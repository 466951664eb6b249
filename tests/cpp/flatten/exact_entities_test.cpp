/// Where the outline of a solid is straight or round, the result is a line or an arc: all of it is
/// counted, against the kernel's own kind of each edge.

#include <doctest/doctest.h>

#include <BRepAdaptor_Curve.hxx>
#include <TopExp.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "flatten/bodies.hpp"
#include "planform/demo.hpp"
#include "planform/side_up.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

struct Count {
    int all = 0;          ///< curves in the outline
    int exact = 0;        ///< of these, lines and arcs
    int free_form = 0;    ///< of these, from edges that are neither straight nor round
    int unexplained = 0;  ///< neither line nor arc, though their edge is straight or round
};

/// Seen along the axis of its circles and along its planes, a plate's edges project to lines and
/// circles; what is neither must come from an edge that is neither.
void add(const Contour& contour, const std::vector<TopTools_IndexedMapOfShape>& edges,
         Count& count) {
    for (std::size_t i = 0; i < contour.curves().size(); ++i) {
        const Curve& curve = contour.curves()[i];
        ++count.all;
        if (std::holds_alternative<Line>(curve) || std::holds_alternative<Arc>(curve)) {
            ++count.exact;
            continue;
        }
        const Provenance& from = contour.provenance()[i];
        bool is_plain = from.kind != Provenance::Kind::edge;
        if (!is_plain) {
            const auto& own = edges[static_cast<std::size_t>(from.solid)];
            const GeomAbs_CurveType kind =
                BRepAdaptor_Curve(TopoDS::Edge(own(from.entity))).GetType();
            is_plain = kind == GeomAbs_Line || kind == GeomAbs_Circle;
        }
        ++(is_plain ? count.unexplained : count.free_form);
    }
}

Count count_of(const std::vector<Solid>& solids, const Datum& datum) {
    std::vector<TopTools_IndexedMapOfShape> edges(solids.size());
    for (std::size_t i = 0; i < solids.size(); ++i)
        TopExp::MapShapes(shape_of(solids[i]), TopAbs_EDGE, edges[i]);
    Count count;
    const ProfileSet set = silhouette(solids, datum);
    for (const Profile& profile : set.profiles()) {
        add(profile.outer(), edges, count);
        for (const Contour& hole : profile.holes()) add(hole, edges, count);
    }
    return count;
}

}  // namespace

TEST_CASE("washers: two circles from above, four lines from the side") {
    for (const double radius : {3.2, 8.0, 50.0}) {
        const TopoDS_Shape washer =
            BRepAlgoAPI_Cut(BRepPrimAPI_MakeCylinder(2.0 * radius, 1.6).Shape(),
                            BRepPrimAPI_MakeCylinder(radius, 1.6).Shape())
                .Shape();
        const Count above = count_of(bodies::solids_of(washer), Datum::xy());
        CHECK(above.all == 2);
        CHECK(above.exact == 2);
        const Count beside = count_of(bodies::solids_of(washer), Datum::xz());
        CHECK(beside.all == 4);
        CHECK(beside.exact == 4);
    }
}

TEST_CASE("the demo's plates: every line and arc of theirs is one in the outline") {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() / "planform-exact-entities.step";
    write_demo_assembly(path);
    const Model model = load(path);
    std::filesystem::remove(path);
    Count sum;
    for (const Solid& solid : model.solids()) {
        const Count count = count_of({solid}, auto_datum(solid));
        CAPTURE(solid.name());
        CHECK(count.unexplained == 0);
        CHECK(count.all > 0);
        sum.all += count.all;
        sum.exact += count.exact;
        sum.free_form += count.free_form;
    }
    MESSAGE(sum.exact << " of " << sum.all << " curves are lines and arcs, " << sum.free_form
                      << " come from the gables' splines");
    CHECK(sum.exact + sum.free_form == sum.all);
    CHECK(sum.exact > 100);
}

TEST_CASE("LQFP-216: all lines and arcs (in the long run)") {
    const char* models = std::getenv("PLANFORM_LONG_MODELS");
    const std::filesystem::path path =
        std::filesystem::path(models != nullptr ? models : "/usr/share/kicad/3dmodels") /
        "Package_QFP.3dshapes/LQFP-216_24x24mm_P0.4mm.step";
    if (!runs_in_full() || !std::filesystem::exists(path)) return;
    for (const Datum& datum : {Datum::xy(), Datum::xz(), Datum::yz()}) {
        const Count count = count_of(load(path).solids(), datum);
        MESSAGE(count.exact << " of " << count.all << " curves are lines and arcs");
        CHECK(count.exact == count.all);
    }
}

/// Many bodies in one call, where curves come from, and what is refused.

#include <doctest/doctest.h>

#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Shell.hxx>

#include "flatten/bodies.hpp"
#include "planform/error.hpp"

using namespace planform;

namespace {

std::vector<Solid> two_boxes(double gap) {
    BRep_Builder builder;
    TopoDS_Compound both;
    builder.MakeCompound(both);
    builder.Add(both, BRepPrimAPI_MakeBox(gp_Pnt(0, 0, 0), gp_Pnt(10, 10, 5)).Shape());
    builder.Add(both, BRepPrimAPI_MakeBox(gp_Pnt(10 + gap, 0, 2), gp_Pnt(20 + gap, 10, 9)).Shape());
    return bodies::solids_of(both);
}

}  // namespace

TEST_CASE("bodies that touch along an edge unite without a line left over") {
    const ProfileSet set = silhouette(two_boxes(0.0), Datum::xy());
    REQUIRE(set.profiles().size() == 1);
    CHECK(set.profiles()[0].outer().curves().size() == 4);
    CHECK(set.area() == doctest::Approx(200.0).epsilon(1e-12));
}

TEST_CASE("bodies apart stay apart, overlapping bodies unite") {
    CHECK(silhouette(two_boxes(0.01), Datum::xy()).profiles().size() == 2);
    const ProfileSet set = silhouette(two_boxes(-4.0), Datum::xy());
    REQUIRE(set.profiles().size() == 1);
    CHECK(set.area() == doctest::Approx(160.0).epsilon(1e-12));
}

TEST_CASE("kept side by side, each profile has its solid's name") {
    FlattenOptions options;
    options.merge = Merge::keep;
    const std::vector<Solid> solids = two_boxes(-4.0);
    const ProfileSet set = silhouette(solids, Datum::xy(), options);
    REQUIRE(set.profiles().size() == 2);
    CHECK(set.profiles()[0].name() == solids[0].name());
    CHECK(set.profiles()[1].name() == solids[1].name());
    CHECK(set.area() == doctest::Approx(200.0).epsilon(1e-12));
}

TEST_CASE("every curve tells where it came from") {
    const ProfileSet set = bodies::silhouette_of(BRepPrimAPI_MakeCylinder(5.0, 20.0).Shape(),
                                                 bodies::tilted_datum(0.6, 0.2));
    REQUIRE(set.profiles().size() == 1);
    const Contour& outer = set.profiles()[0].outer();
    REQUIRE(outer.provenance().size() == outer.curves().size());
    int folds = 0, edges = 0;
    for (std::size_t i = 0; i < outer.curves().size(); ++i) {
        CHECK(outer.provenance()[i].solid == 0);
        CHECK(outer.provenance()[i].entity >= 1);
        if (outer.provenance()[i].kind == Provenance::Kind::fold) {
            ++folds;
            CHECK(std::holds_alternative<Line>(outer.curves()[i]));
        } else {
            ++edges;
            CHECK(std::holds_alternative<EllipticalArc>(outer.curves()[i]));
        }
    }
    CHECK(folds == 2);
    CHECK(edges == 2);
}

TEST_CASE("a ring inside a ring is an island") {
    BRep_Builder builder;
    TopoDS_Compound both;
    builder.MakeCompound(both);
    builder.Add(both, BRepPrimAPI_MakeTorus(30.0, 3.0).Shape());
    builder.Add(both, BRepPrimAPI_MakeTorus(10.0, 3.0).Shape());
    const ProfileSet set = silhouette(bodies::solids_of(both), Datum::xy());
    REQUIRE(set.profiles().size() == 2);
    const int island = set.profiles()[0].is_island() ? 0 : 1;
    CHECK(set.profiles()[static_cast<std::size_t>(island)].outer().area() < 700.0);
    CHECK(set.profiles()[static_cast<std::size_t>(island)].parent() == 1 - island);
    CHECK(!set.profiles()[static_cast<std::size_t>(1 - island)].is_island());
}

TEST_CASE("a doubled body changes nothing") {
    const Datum datum = bodies::tilted_datum(0.8, 0.3);
    const TopoDS_Shape plate = bodies::drilled_plate();
    std::vector<Solid> twice = bodies::solids_of(plate);
    const ProfileSet once = silhouette(twice, datum);
    twice.push_back(twice.front());
    CHECK(silhouette(twice, datum).digest() == once.digest());
}

TEST_CASE("bad tolerances are refused") {
    const std::vector<Solid> solids = two_boxes(0.0);
    for (const double tolerance : {0.0, -1.0, double(NAN), double(INFINITY)}) {
        CAPTURE(tolerance);
        CHECK_THROWS_AS(silhouette(solids, Datum::xy(), {tolerance, Merge::unite}), GeometryError);
        CHECK_THROWS_AS(section(solids, Datum::xy(), 1.0, {tolerance, Merge::unite}),
                        GeometryError);
    }
}

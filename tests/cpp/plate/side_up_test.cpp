#include "planform/side_up.hpp"

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeSphere.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <random>

#include "planform/error.hpp"
#include "planform/flatten.hpp"
#include "planform/occt.hpp"
#include "planform/turning.hpp"
#include "plate/bodies.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

Solid one(const TopoDS_Shape& shape) { return from_shape(shape).solids().at(0); }

/// As a further instance of the shape, not a copy.
Solid placed(const TopoDS_Shape& shape, const gp_Trsf& motion) {
    return one(shape.Located(TopLoc_Location(motion)));
}

std::vector<Point2> vertices_of(const ProfileSet& set) {
    std::vector<Point2> result;
    const auto add = [&](const std::vector<Curve>& curves) {
        for (const Curve& curve : curves) {
            result.push_back(start_point(curve));
            result.push_back(point_at(curve, 0.5));
        }
    };
    for (const Profile& profile : set.profiles()) {
        add(profile.outer().curves());
        for (const Contour& hole : profile.holes()) add(hole.curves());
    }
    return result;
}

/// The greatest distance of a vertex of one from the nearest of the other, both ways.
double apart(const ProfileSet& a, const ProfileSet& b) {
    const std::vector<Point2> first = vertices_of(a), second = vertices_of(b);
    double greatest = first.size() == second.size() ? 0.0 : INFINITY;
    const auto look = [&](const std::vector<Point2>& from, const std::vector<Point2>& to) {
        for (const Point2& point : from) {
            double nearest = INFINITY;
            for (const Point2& other : to) nearest = std::min(nearest, (point - other).norm());
            greatest = std::max(greatest, nearest);
        }
    };
    look(first, second);
    look(second, first);
    return greatest;
}

struct RandomPlate {
    TopoDS_Shape shape;
    gp_Trsf turn;  ///< from the sheet to the part's own frame
    bool pocket_above, pocket_below;
};

/// A star-shaped polygon with a hole and pockets on none, one or both of its sides; flat, on edge,
/// over or leaning in its own frame.
RandomPlate random_plate(std::mt19937_64& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const int corners = std::uniform_int_distribution<int>(5, 10)(random);
    parts::Corners polygon;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2.0 * pi * (i + between(0.1, 0.6)) / corners;
        const double radius = between(45.0, 90.0);
        polygon.emplace_back(radius * std::cos(angle), radius * std::sin(angle));
    }
    const double thickness = between(2.0, 6.0);
    TopoDS_Shape shape = parts::prism(polygon, thickness);
    shape = parts::drilled(shape, between(-3.0, 3.0), between(4.0, 8.0), between(3.0, 5.0));
    RandomPlate plate;
    plate.pocket_above = random() % 2 == 0;
    plate.pocket_below = random() % 3 == 0;
    if (plate.pocket_above)
        shape = parts::pocketed(shape, between(4.0, 8.0), -4.0, 5.0, 0.6 * thickness);
    if (plate.pocket_below) {
        const TopoDS_Shape tool =
            BRepPrimAPI_MakeBox(gp_Pnt(-9.0, -6.0, -1.0), gp_Pnt(-4.0, -3.0, 0.3 * thickness))
                .Shape();
        shape = BRepAlgoAPI_Cut(shape, tool).Shape();
    }
    const int frame = std::uniform_int_distribution<int>(0, 6)(random);
    if (frame == 6) {
        plate.turn = parts::random_motion(random);
    } else if (frame > 0) {
        const gp_Dir axis = frame < 4 ? gp_Dir(1, 0, 0) : gp_Dir(0, 1, 0);
        plate.turn.SetRotation(gp_Ax1(gp_Pnt(), axis), pi / 2.0 * (frame < 4 ? frame : frame * 2));
    }
    plate.shape = parts::copied(shape, plate.turn);
    return plate;
}

}  // namespace

TEST_CASE("the views of a frame: of two opposite sides exactly one is shown") {
    CHECK(view_that_shows({0, 0, 2}) == PartView::top);
    CHECK(view_that_shows({0, -3, 0}) == PartView::front);
    CHECK(view_that_shows({1, 0, 0}) == PartView::right);
    CHECK(view_that_shows({0.9, 0.9, 0.1}) == PartView::top);
    CHECK(view_that_shows({-0.9, -0.1, 0}) == PartView::front);
    CHECK_FALSE(view_that_shows({0, 0, -1}));
    CHECK_FALSE(view_that_shows({0, 1, 0}));
    CHECK_FALSE(view_that_shows({-1, 0, 0}));
    // Rounding of directions in files decides nothing.
    CHECK(view_that_shows({0, -1, -1e-6}) == PartView::front);
    CHECK(view_that_shows({1, 1e-6, -1e-6}) == PartView::right);
    std::mt19937_64 random(3);
    std::normal_distribution<double> normal;
    for (int i = 0; i < 1000; ++i) {
        const Vector3 side(normal(random), i % 3 ? normal(random) : 0.0,
                           i % 2 ? normal(random) : 0.0);
        CHECK(view_that_shows(side).has_value() != view_that_shows(-side).has_value());
    }
    CHECK_THROWS_AS(view_that_shows({0, 0, 0}), GeometryError);
}

TEST_CASE("seen_from: the standard planes, and x across the normal") {
    const auto same = [](const Datum& a, const Datum& b) {
        return (a.normal() - b.normal()).norm() < 1e-15 && (a.x() - b.x()).norm() < 1e-15;
    };
    const Transform3 own = Transform3::Identity();
    CHECK(same(seen_from({0, 0, 1}, own, {}), Datum::xy()));
    CHECK(same(seen_from({0, -1, 0}, own, {}), Datum::xz()));
    CHECK(same(seen_from({1, 0, 0}, own, {}), Datum::yz()));
    const double lean = 1e-5;  // too little of x is left to tell a direction by
    CHECK(seen_from({1, 0, lean}, own, {}).x().isApprox(Vector3::UnitY(), 1e-9));
}

TEST_CASE("auto_datum: a plain plate is drawn as it is, wherever it is placed") {
    TopoDS_Shape plate = parts::drilled(parts::box(100.0, 60.0, 4.0), 80.0, 45.0, 10.0);
    std::mt19937_64 random(5);
    for (int i = 0; i < 5; ++i) {
        const Solid solid = i == 0 ? one(plate) : placed(plate, parts::random_motion(random));
        const Datum datum = auto_datum(solid);
        const Transform3 to_part = solid.placement().inverse();
        CHECK((to_part * datum.origin()).norm() < 1e-9);
        CHECK((to_part.linear() * datum.x() - Vector3::UnitX()).norm() < 1e-12);
        CHECK((to_part.linear() * datum.normal() - Vector3::UnitZ()).norm() < 1e-12);
        const ProfileSet outline = silhouette(std::span(&solid, 1), datum);
        const Box2 hole = outline.profiles().at(0).holes().at(0).bounds();
        CHECK((hole.center() - Point2(80.0, 45.0)).norm() < 1e-9);
    }
}

TEST_CASE("side_up: a countersink below turns the plate over; with one above, too, it stays") {
    const auto sink = [](const TopoDS_Shape& plate, double x, bool above) {
        const gp_Ax2 axis(gp_Pnt(x, 20.0, above ? 4.0 : 0.0), gp_Dir(0, 0, above ? -1 : 1));
        return BRepAlgoAPI_Cut(parts::drilled(plate, x, 20.0, 3.0),
                               BRepPrimAPI_MakeCone(axis, 3.0, 1.5, 1.5).Shape())
            .Shape();
    };
    const TopoDS_Shape plate = parts::box(100.0, 60.0, 4.0);
    const SideUp below = side_up(one(sink(plate, 30.0, false)));
    CHECK(below.datum.normal().isApprox(-Vector3::UnitZ(), 1e-12));
    CHECK(below.datum.x().isApprox(Vector3::UnitX(), 1e-12));
    CHECK(below.datum.origin().isApprox(Point3(0.0, 60.0, 4.0), 1e-9));
    CHECK(below.features_up);
    CHECK_FALSE(below.features_down);
    CHECK(below.text == "this side carries the features");
    const SideUp both = side_up(one(sink(sink(plate, 30.0, false), 70.0, true)));
    CHECK(both.datum.normal().isApprox(Vector3::UnitZ(), 1e-12));
    CHECK(both.is_worked_from_both_sides());
    CHECK(both.text.find("must be turned over") != std::string::npos);
}

TEST_CASE("auto_datum: without a straight edge; a cone; without a planar face; a cube") {
    const Datum disc = auto_datum(one(parts::cylinder(20.0, 2.0)));
    CHECK(disc.normal().isApprox(Vector3::UnitZ(), 1e-12));
    CHECK(disc.x().isApprox(Vector3::UnitX(), 1e-12));
    // The lower left corner of the disc's box: radius 20 about the axis.
    CHECK(disc.to_datum({0.0, 0.0, 1.0}).isApprox(Point3(20.0, 20.0, 1.0), 1e-9));

    const Datum cone = auto_datum(one(BRepPrimAPI_MakeCone(3.0, 9.0, 5.0).Solid()));
    CHECK(cone.normal().isApprox(Vector3::UnitZ(), 1e-12));
    CHECK(cone.to_datum({0.0, 0.0, 0.0}).isApprox(Point3(9.0, 9.0, 0.0), 1e-9));

    CHECK_THROWS_WITH_AS(auto_datum(one(BRepPrimAPI_MakeSphere(3.0).Solid())),
                         "solid 'solid 1' has no planar face to lie on; give a datum, e.g. xy",
                         GeometryError);
    // Six equal faces: the top view decides.
    CHECK(auto_datum(one(parts::box(4.0, 4.0, 4.0))).normal().isApprox(Vector3::UnitZ(), 1e-12));
}

TEST_CASE("the flat sides are those of the plate: a comb has more area in its walls") {
    TopoDS_Shape comb = parts::box(300.0, 200.0, 12.0);
    for (int i = 0; i < 14; ++i) {
        const double x = 10.0 + 20.0 * i;
        comb =
            BRepAlgoAPI_Cut(
                comb,
                BRepPrimAPI_MakeBox(gp_Pnt(x, 20.0, -1.0), gp_Pnt(x + 10.0, 201.0, 13.0)).Shape())
                .Shape();
    }
    const Solid solid = one(comb);
    const PlateList list = plates(std::span(&solid, 1));
    REQUIRE(list.plates.size() == 1);
    CHECK(list.plates[0].datum.normal().isApprox(Vector3::UnitZ(), 1e-12));
    CHECK(auto_datum(solid).normal().isApprox(Vector3::UnitZ(), 1e-12));
}

TEST_CASE("random plates placed at random: the same outline in the part's own frame") {
    std::mt19937_64 random(17);
    const int count = random_count(100, 1000);
    int over = 0, both = 0, plain = 0;
    for (int i = 0; i < count; ++i) {
        CAPTURE(i);
        const RandomPlate plate = random_plate(random);
        const Solid own = one(plate.shape);
        const Solid instance = placed(plate.shape, parts::random_motion(random));
        const SideUp here = side_up(own), there = side_up(instance);
        const Transform3 to_part = instance.placement().inverse();
        CHECK((to_part.linear() * there.datum.normal() - here.datum.normal()).norm() < 1e-12);
        CHECK((to_part.linear() * there.datum.x() - here.datum.x()).norm() < 1e-12);
        CHECK((to_part * there.datum.origin() - here.datum.origin()).norm() < 1e-9);
        CHECK(here.text == there.text);
        const ProfileSet first = silhouette(std::span(&own, 1), here.datum);
        const ProfileSet second = silhouette(std::span(&instance, 1), there.datum);
        CHECK(apart(first, second) < 1e-9);

        CAPTURE(here.text);
        CAPTURE(plate.pocket_above);
        CAPTURE(plate.pocket_below);
        // What the rule says of it, from how it was made.
        const gp_Dir sheet = gp_Dir(0, 0, 1).Transformed(plate.turn);
        const Vector3 up(sheet.X(), sheet.Y(), sheet.Z());
        const bool above = plate.pocket_above != plate.pocket_below
                               ? plate.pocket_above
                               : view_that_shows(up).has_value();
        CHECK((here.datum.normal() - (above ? up : Vector3(-up))).norm() < 1e-9);
        CHECK(here.is_worked_from_both_sides() == (plate.pocket_above && plate.pocket_below));
        over += above ? 0 : 1;
        both += plate.pocket_above && plate.pocket_below ? 1 : 0;
        plain += !plate.pocket_above && !plate.pocket_below ? 1 : 0;
    }
    CHECK(over > count / 10);
    CHECK(both > count / 20);
    CHECK(plain > count / 20);
}

TEST_CASE(
    "the smallest rectangle: of a turned plate its own sides, every point kept in the model") {
    const TopoDS_Shape plate = parts::drilled(parts::box(100.0, 60.0, 4.0), 80.0, 45.0, 10.0);
    std::mt19937_64 random(9);
    for (int i = 1; i < 8; ++i) {
        gp_Trsf turn;
        turn.SetRotation(gp_Ax1(gp_Pnt(), gp_Dir(0, 0, 1)), 0.2 * i);
        const Solid solid = one(parts::copied(plate, turn));
        const ProfileSet outline = silhouette(std::span(&solid, 1), auto_datum(solid));
        const ProfileSet small = turned_to_smallest_rectangle(outline);
        const Vector2 size = small.bounds().sizes();
        CHECK(small.bounds().min().norm() < 1e-9);
        CHECK(std::abs(size.x() * size.y() - 6000.0) < 1e-6);
        const auto centre = [](const ProfileSet& set) {
            return set.datum().to_model(set.profiles().at(0).holes().at(0).bounds().center());
        };
        CHECK((centre(outline) - centre(small)).norm() < 1e-9);
    }
}

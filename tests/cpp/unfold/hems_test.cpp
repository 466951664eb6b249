/// Hems whose walls touch, as a slit or drawn as one piece: length = walls + angle K thickness.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <algorithm>
#include <cmath>
#include <gp_Ax2.hxx>
#include <gp_Trsf.hxx>

#include "unfold/refused_bodies.hpp"
#include "unfold/sheets.hpp"

using namespace planform;
using sheets::Flange;

namespace {

constexpr double k = 0.42;
constexpr double hem_width = 30.0;

TopoDS_Shape moved(const TopoDS_Shape& shape, double x, double y, double z) {
    gp_Trsf motion;
    motion.SetTranslation(gp_Vec(x, y, z));
    return BRepBuilderAPI_Transform(shape, motion, Standard_True).Shape();
}

TopoDS_Shape mirrored(const TopoDS_Shape& shape) {
    gp_Trsf motion;
    motion.SetMirror(gp_Ax2(gp_Pnt(3, 5, 7), gp_Dir(1, 2, -1)));
    return BRepBuilderAPI_Transform(shape, motion, Standard_True).Shape();
}

/// A wall of 40 mm with what goes on from its end, joined to one piece: walls that touch have
/// nothing between them.
TopoDS_Shape fused_hem(double t, double from, double to, const std::vector<Flange>& rest) {
    const TopoDS_Shape wall = refused::box(0, 0, 0, 40, hem_width, t);
    const TopoDS_Shape body =
        refused::fused(wall, moved(sheets::strip(t, to - from, 0.0, rest), 40, from, 0));
    REQUIRE(BRepCheck_Analyzer(body).IsValid());
    return body;
}

double length_of(double t, const std::vector<Flange>& rest) {
    return sheets::strip_length(t, k, 0.0, rest);
}

void check_hem(const Blank& blank, double t, double area, double length, std::size_t bends) {
    CHECK(blank.thickness == doctest::Approx(t).epsilon(1e-9));
    CHECK(blank.outline.area() == doctest::Approx(area).epsilon(1e-9));
    const Vector2 sizes = blank.outline.bounds().sizes();
    CHECK(std::max(sizes.x(), sizes.y()) == doctest::Approx(length).epsilon(1e-9));
    CHECK(blank.bends.size() == bends);
    CHECK(std::count_if(blank.bends.begin(), blank.bends.end(), [](const Bend& bend) {
              return bend.inside_radius == 0.0 && std::abs(bend.angle - pi) < 1e-9;
          }) >= 1);
    CHECK(!blank.outline.proof().laws().empty());
}

bool tells_of_hem(const Blank& blank) {
    return std::any_of(blank.notes.begin(), blank.notes.end(), [](const std::string& note) {
        return note.find("hem") != std::string::npos;
    });
}

}  // namespace

TEST_CASE("hems with a slit between their walls, up and down, after bends and alone") {
    for (const double t : {0.5, 1.0, 3.0})
        for (const bool up : {true, false}) {
            CAPTURE(t);
            CAPTURE(up);
            const std::vector<Flange> alone{{pi, up, 0.0, 9.0}};
            const std::vector<Flange> after{{0.5 * pi, true, t, 25.0}, {pi, up, 0.0, 9.0}};
            for (const auto& rest : {alone, after}) {
                const double length = 40.0 + length_of(t, rest);
                const Blank blank = sheets::unfolded(sheets::strip(t, hem_width, 40.0, rest), k);
                check_hem(blank, t, length * hem_width, length, rest.size());
                CHECK(!tells_of_hem(blank));
            }
        }
}

TEST_CASE("hems drawn as one piece: the same blank as with a slit") {
    for (const double t : {0.5, 1.0, 3.0})
        for (const bool up : {true, false}) {
            CAPTURE(t);
            CAPTURE(up);
            const std::vector<Flange> rest{{pi, up, 0.0, 12.0}};
            const TopoDS_Shape body = fused_hem(t, 0.0, hem_width, rest);
            const double length = 40.0 + length_of(t, rest);
            const Blank blank = sheets::unfolded(body, k);
            check_hem(blank, t, length * hem_width, length, 1);
            CHECK(tells_of_hem(blank));
            const Blank slit = sheets::unfolded(sheets::strip(t, hem_width, 40.0, rest), k);
            CHECK(sheets::difference(blank.outline, slit.outline, 1e-3) < 1e-9);
            const Blank other = sheets::unfolded(mirrored(body), k);
            CHECK(sheets::difference(blank.outline, other.outline, 1e-3) < 1e-9);
        }
}

TEST_CASE("a hem on a part of an edge, and one at each end") {
    const double t = 1.5;
    const std::vector<Flange> rest{{pi, true, 0.0, 8.0}};
    const double more = length_of(t, rest);
    check_hem(sheets::unfolded(fused_hem(t, 6.0, 24.0, rest), k), t, 40.0 * hem_width + 18.0 * more,
              40.0 + more, 1);
    const TopoDS_Shape one = fused_hem(t, 0.0, hem_width, rest);
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1(gp_Pnt(20, 0.5 * hem_width, 0), gp_Dir(0, 0, 1)), pi);
    const TopoDS_Shape other =
        BRepBuilderAPI_Transform(fused_hem(t, 3.0, 20.0, rest), turn, Standard_True).Shape();
    check_hem(sheets::unfolded(refused::fused(one, other), k), t,
              (40.0 + more) * hem_width + 17.0 * more, 40.0 + 2.0 * more, 2);
}

TEST_CASE("a hem that is bent away again, and holes through both of its walls") {
    const double t = 1.0;
    const std::vector<Flange> rest{{pi, true, 0.0, 20.0}, {0.5 * pi, false, 1.0, 15.0}};
    const double length = 40.0 + length_of(t, rest);
    const TopoDS_Shape body = fused_hem(t, 0.0, hem_width, rest);
    check_hem(sheets::unfolded(body, k), t, length * hem_width, length, 2);

    const double radius = 2.5;
    const TopoDS_Shape drilled =
        refused::cut(refused::cut(body, refused::cylinder(34, 9, -1, radius, 4)),
                     refused::cylinder(5, 20, -1, radius, 4));
    const Blank blank = sheets::unfolded(drilled, k);
    check_hem(blank, t, length * hem_width - 3.0 * pi * radius * radius, length, 2);
    // 6 mm before the fold and 6 mm after it.
    std::vector<double> centers;
    for (const Contour& hole : blank.outline.profiles().front().holes())
        centers.push_back(hole.bounds().center().x());
    REQUIRE(centers.size() == 3);
    std::sort(centers.begin(), centers.end());
    const bool runs_back = centers[1] - centers[0] < centers[2] - centers[1];
    const double apart = runs_back ? centers[1] - centers[0] : centers[2] - centers[1];
    CHECK(apart == doctest::Approx(12.0 + pi * k * t).epsilon(1e-9));
    CHECK(centers[2] - centers[0] == doctest::Approx(29.0 + 12.0 + pi * k * t).epsilon(1e-9));
}

TEST_CASE("doubled walls without a fold stay one body that is no sheet of one thickness") {
    const double t = 1.0;
    TopoDS_Shape bracket = sheets::strip(t, hem_width, 40.0, {{0.5 * pi, true, 2.0, 30.0}});
    const TopoDS_Shape doubled = refused::fused(bracket, refused::box(5, 0, t, 20, hem_width, t));
    CHECK(sheets::refused(doubled).reason == NotUnfolded::not_one_thickness);
}

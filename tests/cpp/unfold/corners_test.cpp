/// Corners without a bend of one thickness: sharp on both sides, or with rounds that fit no
/// thickness. The blank is as long as the outer lengths together less the deduction.

#include <doctest/doctest.h>

#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>
#include <cmath>

#include "unfold/refused_bodies.hpp"
#include "unfold/sheets.hpp"

using namespace planform;

namespace {

using sheets::degree;

constexpr double corner_width = 30.0;

/// An L of outer lengths up to where the outsides meet, bent by an angle, sharp.
TopoDS_Shape sharp(double thickness, double first, double second, double angle) {
    const double c = std::cos(angle), s = std::sin(angle), aside = std::tan(0.5 * angle);
    const double t = thickness;
    // Outside along x, then up; inside a thickness to the left of it.
    return refused::prism({{0.0, 0.0},
                           {first, 0.0},
                           {first + second * c, second * s},
                           {first + second * c - t * s, second * s + t * c},
                           {first - t * aside, t},
                           {0.0, t}},
                          corner_width);
}

Blank unfolded(const TopoDS_Shape& body, double k, std::optional<double> sharp_radius = {}) {
    UnfoldOptions options;
    options.rule.kind = BendRuleKind::k_factor;
    options.rule.k_factor = k;
    options.rule.sharp_radius = sharp_radius;
    return unfold(sheets::solid_of(body), options);
}

/// By the definition of outer lengths: up to the tangents, and the neutral fibre.
double length(double outer, double thickness, double radius, double angle, double k) {
    return outer - 2.0 * (radius + thickness) * std::tan(0.5 * angle) +
           angle * (radius + k * thickness);
}

void check(const Blank& blank, double expected, double radius, double angle) {
    const Vector2 sizes = blank.outline.bounds().sizes();
    CHECK(std::max(sizes.x(), sizes.y()) ==
          doctest::Approx(std::max(expected, corner_width)).epsilon(1e-9));
    CHECK(blank.outline.area() == doctest::Approx(expected * corner_width).epsilon(1e-9));
    REQUIRE(blank.bends.size() == 1);
    CHECK(blank.bends.front().inside_radius == doctest::Approx(radius).epsilon(1e-9));
    CHECK(blank.bends.front().angle == doctest::Approx(angle).epsilon(1e-9));
    REQUIRE(!blank.notes.empty());
    CHECK(blank.notes.front().find("taken as bent") != std::string::npos);
    CHECK(blank.outline.notes() == blank.notes);
}

}  // namespace

TEST_CASE("sharp inside and outside: the inside radius is the thickness, or the one that is said") {
    const double k = 0.42;
    for (const double t : {0.5, 2.0, 6.0})
        for (const double angle : {30.0 * degree, 90.0 * degree, 120.0 * degree}) {
            const double first = 25.0 * t, second = 20.0 * t;
            const TopoDS_Shape body = sharp(t, first, second, angle);
            CAPTURE(t);
            CAPTURE(angle / degree);
            check(unfolded(body, k), length(first + second, t, t, angle, k), t, angle);
            for (const double radius : {0.0, 0.4 * t, 3.0 * t}) {
                const Blank blank = unfolded(body, k, radius);
                check(blank, length(first + second, t, radius, angle, k), radius, angle);
                CHECK(blank.notes.front().find("assumed") != std::string::npos);
            }
        }
}

TEST_CASE("rounds that fit no thickness: what is drawn inside counts, then what is drawn outside") {
    const double t = 2.0, k = 0.4, angle = 90.0 * degree;
    const TopoDS_Shape plain = sharp(t, 50.0, 40.0, angle);
    struct Drawn {
        double inside, outside, radius;
        bool is_assumed;
    };
    for (const Drawn& drawn :
         {Drawn{3.0, 1.5, 3.0, false}, Drawn{3.0, 3.0, 3.0, false}, Drawn{3.0, 8.0, 3.0, false},
          Drawn{3.0, 0.0, 3.0, false}, Drawn{0.0, 5.0, 3.0, false}, Drawn{0.0, 1.0, 2.0, true}}) {
        CAPTURE(drawn.inside);
        CAPTURE(drawn.outside);
        std::vector<std::pair<std::pair<double, double>, double>> rounds;
        if (drawn.inside > 0.0) rounds.push_back({{50.0 - t, t}, drawn.inside});
        if (drawn.outside > 0.0) rounds.push_back({{50.0, 0.0}, drawn.outside});
        const TopoDS_Shape body = refused::rounded(plain, rounds);
        const Blank blank = unfolded(body, k);
        check(blank, length(90.0, t, drawn.radius, angle, k), drawn.radius, angle);
        CHECK((blank.notes.front().find("assumed") != std::string::npos) == drawn.is_assumed);
    }
}

TEST_CASE("a radius of 0 with a round of the thickness about it is meant so") {
    const double t = 2.0, k = 0.4;
    const TopoDS_Shape body =
        refused::rounded(sharp(t, 50.0, 40.0, 90.0 * degree), {{{50.0, 0.0}, t}});
    const Blank blank = unfolded(body, k, 1.0);
    CHECK(blank.bends.front().inside_radius == 0.0);
    CHECK(blank.notes.empty());
}

TEST_CASE("a tray and a Z with sharp corners, a hole and a slit between walls") {
    const double t = 1.0, k = 0.4;
    // Four walls on a base, with open corners: base 80 x 60 outside, walls 20 high outside.
    TopoDS_Shape tray = refused::box(0, 0, 0, 80, 60, t);
    for (const TopoDS_Shape& wall :
         {refused::box(0, 3, 0, t, 54, 20), refused::box(80 - t, 3, 0, t, 54, 20),
          refused::box(3, 0, 0, 74, t, 20), refused::box(3, 60 - t, 0, 74, t, 20)})
        tray = refused::fused(tray, wall);
    // Relieve the corners of the base.
    for (const auto& [x, y] : {std::pair{-1.0, -1.0}, std::pair{77.0, -1.0}, std::pair{-1.0, 57.0},
                               std::pair{77.0, 57.0}})
        tray = refused::cut(tray, refused::box(x, y, -1, 4, 4, 30));
    tray = refused::cut(tray, refused::cylinder(30, 30, -1, 5, 4));
    const Blank blank = unfolded(tray, k);
    REQUIRE(blank.bends.size() == 4);
    // Bends begin 2 mm inside of the outsides.
    const double beyond = 20.0 - 2.0 + 0.5 * pi * (t + k * t);
    const double expected = 76.0 * 56.0 - 4.0 + 2.0 * (54.0 + 74.0) * beyond - 25.0 * pi;
    CHECK(blank.outline.area() == doctest::Approx(expected).epsilon(1e-9));
    for (const Bend& bend : blank.bends) CHECK(bend.inside_radius == doctest::Approx(t));

    const TopoDS_Shape zed = refused::prism(
        {{0, 0}, {30, 0}, {30, 39}, {60, 39}, {60, 40}, {29, 40}, {29, 1}, {0, 1}}, corner_width);
    const Blank flat = unfolded(zed, k);
    REQUIRE(flat.bends.size() == 2);
    CHECK(flat.bends[0].up != flat.bends[1].up);
    CHECK(flat.outline.area() ==
          doctest::Approx(corner_width * (30.0 + 40.0 + 31.0 - 4.0 * 2.0 * t + pi * (t + k * t)))
              .epsilon(1e-9));
}

TEST_CASE("rounds that fit no thickness and go on round an edge are told, and not tried") {
    const double t = 2.0;
    const TopoDS_Shape plain = refused::rounded(sharp(t, 50.0, 40.0, 90.0 * degree),
                                                {{{50.0 - t, t}, 1.0}, {{50.0, 0.0}, 1.0}});
    // All edges of one end of the prism.
    BRepFilletAPI_MakeFillet broken(plain);
    for (TopExp_Explorer edges(plain, TopAbs_EDGE); edges.More(); edges.Next()) {
        GProp_GProps along;
        BRepGProp::LinearProperties(edges.Current(), along);
        if (std::abs(along.CentreOfMass().Y()) < 1e-9)
            broken.Add(0.2, TopoDS::Edge(edges.Current()));
    }
    const UnfoldRefusal refusal = sheets::refused(broken.Shape());
    CHECK_MESSAGE(refusal.reason == NotUnfolded::sharp_corner, refusal.text);
    CHECK_MESSAGE(refusal.text.find("goes on from one of them smoothly") != std::string::npos,
                  refusal.text);
    CHECK(refusal.faces.size() == 2);
}

TEST_CASE("an inside radius that makes no sense") {
    for (const double wrong : {-1.0, std::nan("")})
        CHECK_THROWS_AS(unfolded(sharp(2.0, 50.0, 40.0, 1.0), 0.4, wrong), GeometryError);
}

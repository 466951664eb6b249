/// Random plates with pockets, cones and cross holes: what stands at a place of the datum, by lines
/// of the kernel through the solid, against the four outlines.

#include <doctest/doctest.h>

#include <BRepClass3d_SolidClassifier.hxx>
#include <IntCurvesFace_ShapeIntersector.hxx>
#include <algorithm>
#include <cstdlib>
#include <gp_Lin.hxx>
#include <random>
#include <vector>

#include "flatten/plate_bodies.hpp"
#include "random_count.hpp"

namespace {

using namespace planform;
using namespace bodies;

/// Places nearer to an outline than this, mm, are not asked.
constexpr double too_near = 1e-3;

/// A plate with three to six recesses from either side or across.
TopoDS_Shape random_plate(std::mt19937_64& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    const auto recess = [&]() -> TopoDS_Shape {
        const double x = between(8, 52), y = between(8, 32), depth = between(0.5, 4.5);
        const bool above = between(0, 1) < 0.5;
        const double z = above ? plate_thickness - depth : depth;
        const gp_Ax2 axis(gp_Pnt(x, y, z), gp_Dir(0, 0, above ? 1 : -1));
        const double radius = between(1.5, 4.0);
        switch (std::uniform_int_distribution<int>(0, 5)(random)) {
            case 0:
                return cylinder(axis, radius, 9.0);
            case 1:
                return BRepPrimAPI_MakeCone(axis, radius, radius + between(0.5, 4.0), 9.0).Shape();
            case 2:  // undercut
                return BRepPrimAPI_MakeCone(axis, radius + 2.0, radius, 9.0).Shape();
            case 3:
                return BRepPrimAPI_MakeBox(axis, between(3, 9), between(3, 9), 9.0).Shape();
            case 4: {
                const double angle = between(0, pi), lift = between(-0.3, 0.3);
                const gp_Dir along(std::cos(angle), std::sin(angle), lift);
                return cylinder(gp_Ax2(gp_Pnt(x, y, 2.5).Translated(gp_Vec(along) * -80.0), along),
                                between(0.5, 2.0), 160.0);
            }
            default:
                return BRepPrimAPI_MakeSphere(gp_Pnt(x, y, z), radius).Shape();
        }
    };
    TopoDS_Shape body = plate();
    const int count = std::uniform_int_distribution<int>(3, 6)(random);
    for (int i = 0; i < count; ++i) body = without(body, recess());
    return body;
}

bool is_near(const ProfileSet& set, const Point2& place) {
    const auto near = [&](const Contour& contour) {
        return std::any_of(contour.curves().begin(), contour.curves().end(), [&](const Curve& c) {
            return (point_at(c, nearest_parameter(c, place)) - place).norm() < too_near;
        });
    };
    return std::any_of(set.profiles().begin(), set.profiles().end(), [&](const Profile& profile) {
        return near(profile.outer()) ||
               std::any_of(profile.holes().begin(), profile.holes().end(), near);
    });
}

/// Parity of the crossings of a ray with the chords of all contours.
bool is_inside(const ProfileSet& set, const Point2& place) {
    bool inside = false;
    const auto cross_contour = [&](const Contour& contour) {
        for (const Curve& curve : contour.curves()) {
            const std::vector<Point2> points = planform::points(curve, 1e-4);
            for (std::size_t i = 0; i + 1 < points.size(); ++i) {
                const Point2 &a = points[i], &b = points[i + 1];
                if ((a.y() > place.y()) == (b.y() > place.y())) continue;
                if (place.x() < a.x() + (place.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x()))
                    inside = !inside;
            }
        }
    };
    for (const Profile& profile : set.profiles()) {
        cross_contour(profile.outer());
        for (const Contour& hole : profile.holes()) cross_contour(hole);
    }
    return inside;
}

struct Stands {
    bool anywhere = false, at_top = false, at_bottom = false, through = false;
};

/// The pieces of the upright line over a place, each asked in its middle.
class Lines {
  public:
    explicit Lines(const TopoDS_Shape& body) : classifier_(body) { lines_.Load(body, 1e-9); }

    Stands at(const Point2& place) {
        lines_.Perform(gp_Lin(gp_Pnt(place.x(), place.y(), 0.0), gp_Dir(0, 0, 1)), 1e-6,
                       plate_thickness - 1e-6);
        std::vector<double> heights{0.0, plate_thickness};
        for (int i = 1; i <= lines_.NbPnt(); ++i) heights.push_back(lines_.WParameter(i));
        std::sort(heights.begin(), heights.end());
        Stands stands;
        stands.through = true;
        for (std::size_t i = 0; i + 1 < heights.size(); ++i) {
            if (heights[i + 1] - heights[i] < 1e-7) continue;
            classifier_.Perform(gp_Pnt(place.x(), place.y(), (heights[i] + heights[i + 1]) / 2.0),
                                1e-7);
            const bool in = classifier_.State() == TopAbs_IN;
            stands.anywhere = stands.anywhere || in;
            stands.through = stands.through && in;
            if (heights[i] == 0.0) stands.at_bottom = in;
            stands.at_top = in;
        }
        return stands;
    }

  private:
    IntCurvesFace_ShapeIntersector lines_;
    BRepClass3d_SolidClassifier classifier_;
};

}  // namespace

TEST_CASE("random plates: the four outlines against lines through the solid") {
    const bool all = runs_in_full();
    const int plates = all ? 200 : 12, places = 50;
    std::mt19937_64 random(20261125);
    std::uniform_real_distribution<double> x(-1.0, plate_length + 1.0), y(-1.0, plate_width + 1.0);
    int asked = 0, differing = 0;
    for (int k = 0; k < plates; ++k) {
        const TopoDS_Shape body = random_plate(random);
        const auto solids = solids_of(body);
        const auto outline = [&](At at) {
            return silhouette(solids, Datum::xy(), {0.01, Merge::unite, at});
        };
        const ProfileSet shadow = outline(At::shadow), top = outline(At::top),
                         bottom = outline(At::bottom), through = outline(At::through);
        Lines lines(body);
        for (int i = 0; i < places; ++i) {
            const Point2 place(x(random), y(random));
            if (is_near(shadow, place) || is_near(top, place) || is_near(bottom, place) ||
                is_near(through, place))
                continue;
            const Stands stands = lines.at(place);
            INFO("plate " << k << ", place " << place.x() << ", " << place.y());
            CHECK(is_inside(shadow, place) == stands.anywhere);
            CHECK(is_inside(top, place) == stands.at_top);
            CHECK(is_inside(bottom, place) == stands.at_bottom);
            CHECK(is_inside(through, place) == stands.through);
            ++asked;
            differing += stands.through != stands.anywhere ? 1 : 0;
        }
    }
    CHECK(asked > plates * places * 9 / 10);
    CHECK(differing > plates);  // the question was not an empty one
}

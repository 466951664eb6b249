/// Random solids against a mesh, and against laws that hold for any solid.
///
/// A share of the cases runs by default, 2,000 with PLANFORM_LONG_TESTS in the environment,
/// PLANFORM_RANDOM_SOLIDS=N runs N, PLANFORM_RANDOM_FIRST=K leaves out those before the Kth.

#include "flatten/silhouette/random_solids.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <string>

#include "flatten/bodies.hpp"
#include "flatten/mesh_oracle.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

constexpr double usual_tolerance = 0.01;  // mm
constexpr double deflection = 0.01;       // mm, of the mesh

int case_count() {
    const char* wanted = std::getenv("PLANFORM_RANDOM_SOLIDS");
    if (wanted != nullptr) return std::atoi(wanted);
    return random_count(150, 2000);
}

int first_case() {
    const char* wanted = std::getenv("PLANFORM_RANDOM_FIRST");
    return wanted != nullptr ? std::atoi(wanted) : 1;
}

bool all_exact(const ProfileSet& set) {
    const auto exact = [](const Contour& contour) {
        for (const Curve& curve : contour.curves())
            if (std::holds_alternative<Spline>(curve)) return false;
        return true;
    };
    for (const Profile& profile : set.profiles()) {
        if (!exact(profile.outer())) return false;
        for (const Contour& hole : profile.holes())
            if (!exact(hole)) return false;
    }
    return true;
}

/// Proper crossings among the polylines of all contours: touching in points is allowed.
int crossings(const ProfileSet& set) {
    std::vector<std::pair<Point2, Point2>> legs;
    const auto add = [&](const Contour& contour) {
        const std::vector<Point2> points = contour.points(0.1 * usual_tolerance);
        for (std::size_t i = 0; i < points.size(); ++i)
            legs.emplace_back(points[i], points[(i + 1) % points.size()]);
    };
    for (const Profile& profile : set.profiles()) {
        add(profile.outer());
        for (const Contour& hole : profile.holes()) add(hole);
    }
    // Two legs cross if each has its ends on both sides of the other, by more than the polylines'
    // error.
    const auto sides = [](const auto& leg, const auto& other) {
        const Vector2 way = leg.second - leg.first;
        const double size = way.norm();
        if (size < usual_tolerance) return false;
        const double a = cross(way, other.first - leg.first) / size;
        const double b = cross(way, other.second - leg.first) / size;
        return std::min(std::abs(a), std::abs(b)) > 0.5 * usual_tolerance && (a > 0.0) != (b > 0.0);
    };
    int count = 0;
    for (std::size_t i = 0; i < legs.size(); ++i)
        for (std::size_t j = i + 1; j < legs.size(); ++j)
            if (sides(legs[i], legs[j]) && sides(legs[j], legs[i])) ++count;
    return count;
}

Datum turned(const Datum& datum, double angle) {
    return {datum.origin(), datum.normal(),
            std::cos(angle) * datum.x() + std::sin(angle) * datum.y()};
}

}  // namespace

TEST_CASE(
    "random solids: area as a mesh has it, simple contours, the same from behind, turned and "
    "doubled") {
    const int first = first_case(), last = case_count();
    int checked = 0, splines = 0, followed_on_mesh = 0, by_rays = 0;
    for (int seed = first; seed <= last; ++seed) {
        const random_solids::Case made = random_solids::make(static_cast<std::uint64_t>(seed));
        if (made.shape.IsNull()) continue;
        CAPTURE(seed);
        CAPTURE(made.description);
        try {
            const std::vector<Solid> solids = bodies::solids_of(made.shape);
            const FlattenOptions options{usual_tolerance, Merge::unite};
            const ProfileSet set = silhouette(solids, made.datum, options);
            ++checked;
            if (!all_exact(set)) ++splines;
            if (!set.notes().empty()) ++followed_on_mesh;
            const oracle::Area mesh = oracle::shadow_area(made.shape, made.datum, deflection);
            if (oracle::mesh_covers_all_faces(made.shape)) {
                CHECK(std::abs(set.area() - mesh.value) <=
                      2.0 * deflection * set.length() + mesh.scan_error);
            } else {
                ++by_rays;
                const oracle::Area rays = oracle::ray_area(made.shape, made.datum, set.bounds());
                CHECK(std::abs(set.area() - rays.value) <= 0.25 * rays.scan_error * set.length());
            }
            CHECK(crossings(set) == 0);
            // Lines, arcs and ellipses are exact; splines keep to the tolerance.
            const double same = all_exact(set) ? 1e-6 * set.area() : usual_tolerance * set.length();
            CHECK(std::abs(silhouette(solids, turned(made.datum, 0.3), options).area() -
                           set.area()) <= same);
            const Datum behind(made.datum.origin(), -made.datum.normal(), made.datum.x());
            const ProfileSet mirrored = silhouette(solids, behind, options);
            CHECK(std::abs(mirrored.area() - set.area()) <= same);
            // Seen from behind, with the same x direction, y is turned over.
            CHECK(
                (mirrored.bounds().min() - Point2(set.bounds().min().x(), -set.bounds().max().y()))
                    .norm() <= usual_tolerance);
            std::vector<Solid> doubled = solids;
            doubled.insert(doubled.end(), solids.begin(), solids.end());
            CHECK(std::abs(silhouette(doubled, made.datum, options).area() - set.area()) <= same);
        } catch (const Error& error) {
            FAIL_CHECK(std::string(error.what()));
        }
    }
    MESSAGE(checked << " of " << last - first + 1 << " cases were valid solids, " << splines
                    << " with splines in the outline, " << followed_on_mesh << " with notes, "
                    << by_rays << " compared with rays, their mesh being incomplete");
    CHECK(checked > (last - first) / 2);
}

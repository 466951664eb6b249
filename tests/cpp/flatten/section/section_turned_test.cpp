/// Sections of bodies of revolution and of sweeps, of every kind of profile: through the axis, the
/// seam, vertices and poles, and in the spine's plane, against closed forms.

#include <doctest/doctest.h>

#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <cmath>
#include <cstdlib>
#include <string>
#include <vector>

#include "flatten/bodies.hpp"
#include "flatten/turned_bodies.hpp"
#include "planform/error.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

/// By the kernel.
double volume_of(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return std::abs(properties.Mass());
}

int count_of(const char* variable, int usual, int all) {
    if (const char* count = std::getenv(variable)) return std::atoi(count);
    return runs_in_full() ? all : usual;
}

}  // namespace

TEST_CASE("a section through the axis of a body of revolution has twice its profile's area") {
    const int bodies_asked = count_of("PLANFORM_TURNED", 40, 700);
    int planes = 0, wrong = 0, refused = 0, read_wrong = 0;
    for (int seed = 0; seed < bodies_asked; ++seed) {
        const turned_bodies::Turned body = turned_bodies::turned(static_cast<std::uint64_t>(seed));
        TopoDS_Shape shape = body.shape;
        const bool is_traced = seed % 5 == 2;
        if (is_traced) shape = turned_bodies::as_splines(shape);
        if (seed % 5 == 3) shape = turned_bodies::through_brep(shape);
        if (seed % 5 == 4) shape = turned_bodies::through_step(shape);
        if (std::abs(volume_of(shape) - volume_of(body.shape)) > 1e-3 * volume_of(body.shape)) {
            ++read_wrong;  // by the kernel: another body
            continue;
        }
        const auto solids = bodies::solids_of(shape);
        // Splines are followed within the tolerance of 0.01 mm, the rest is exact.
        const double off = (is_traced ? 3e-4 : 1e-8) * (1.0 + body.profile_area);
        std::mt19937_64 random(static_cast<std::uint64_t>(seed));
        std::uniform_real_distribution<double> any(0.0, 2 * pi);
        std::vector<Vector3> normals;
        const Vector3 across = body.axis.cross(body.seam);
        for (const int fifteens : {0, 1, 2, 3, 4, 6, 7, 9, 12, 18, 23})
            normals.push_back(std::cos(fifteens * pi / 12) * across -
                              std::sin(fifteens * pi / 12) * body.seam);
        const double turn = any(random);
        normals.push_back(std::cos(turn) * across + std::sin(turn) * body.seam);
        if ((body.axis - Vector3::UnitZ()).norm() < 1e-12) {
            normals.push_back(-Vector3::UnitX());
            normals.push_back(Vector3::UnitY());
        }
        for (std::size_t i = 0; i < normals.size(); ++i)
            for (const Side side : {Side::below, Side::above}) {
                if (side == Side::above && i % 4 != 0) continue;
                ++planes;
                SectionOptions options;
                options.side = side;
                std::string result;
                try {
                    const double area =
                        section(solids, Datum(body.foot, normals[i]), 0.0, options).area();
                    if (std::abs(area - 2.0 * body.profile_area) < off) continue;
                    ++wrong;
                    result = std::to_string(area);
                } catch (const Error& error) {
                    ++refused;
                    result = error.what();
                }
                MESSAGE("seed " << seed << " plane " << i
                                << std::string(side == Side::above ? " above" : "") << ": "
                                << result << " for " << 2.0 * body.profile_area << ": "
                                << body.description);
            }
    }
    MESSAGE(planes << " planes through axes: " << wrong << " wrong, " << refused << " refused, "
                   << read_wrong << " bodies not read as they were written");
    CHECK(planes > 15 * (bodies_asked - read_wrong));
    CHECK(5 * read_wrong <= bodies_asked);
    CHECK(wrong == 0);
    CHECK(refused == 0);
}

TEST_CASE("a section in the spine's plane of a sweep has its width times the spine's length") {
    const int bodies_asked = count_of("PLANFORM_SWEPT", 8, 500);
    int planes = 0, wrong = 0, refused = 0, read_wrong = 0;
    for (int seed = 0; seed < bodies_asked; ++seed) {
        const turned_bodies::Swept body = turned_bodies::swept(static_cast<std::uint64_t>(seed));
        TopoDS_Shape shape = body.shape;
        if (seed % 5 == 3) shape = turned_bodies::through_brep(shape);
        if (seed % 5 == 4) shape = turned_bodies::through_step(shape);
        if (std::abs(volume_of(shape) - volume_of(body.shape)) > 1e-3 * volume_of(body.shape)) {
            ++read_wrong;  // by the kernel: another body
            continue;
        }
        const auto solids = bodies::solids_of(shape);
        for (const double aside : {0.0, 1e-9, 5e-8, 9.9e-8, 1e-7, 1.01e-7, 2e-7, 1e-6, 1e-5})
            for (const double sign : {1.0, -1.0}) {
                ++planes;
                std::string result;
                try {
                    const double area =
                        section(solids, Datum(body.origin, body.normal), sign * aside).area();
                    if (std::abs(area - body.area) < 2e-4 * body.area) continue;
                    ++wrong;
                    result = std::to_string(area);
                } catch (const Error& error) {
                    ++refused;
                    result = error.what();
                }
                MESSAGE("seed " << seed << " aside " << sign * aside << ": " << result << " for "
                                << body.area << ": " << body.description);
            }
    }
    MESSAGE(planes << " planes of spines: " << wrong << " wrong, " << refused << " refused, "
                   << read_wrong << " bodies not read as they were written");
    CHECK(planes == 18 * (bodies_asked - read_wrong));
    CHECK(5 * read_wrong <= bodies_asked);
    CHECK(wrong == 0);
    CHECK(refused == 0);
}

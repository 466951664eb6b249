#include <doctest/doctest.h>

#include <BRepAlgoAPI_Common.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepExtrema_DistShapeShape.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <array>
#include <cmath>
#include <fstream>
#include <map>
#include <random>
#include <sstream>

#include "demo/plates.hpp"
#include "planform/demo.hpp"
#include "planform/error.hpp"
#include "planform/occt.hpp"
#include "planform/side_up.hpp"

using namespace planform;
using namespace planform::demo::dimensions;

namespace {

class TemporaryFolder {
  public:
    TemporaryFolder() {
        std::random_device device;
        path_ = std::filesystem::temp_directory_path() /
                ("planform-demo-" + std::to_string(device()) + std::to_string(device()));
        std::filesystem::create_directories(path_);
    }
    ~TemporaryFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    std::filesystem::path operator/(const char* name) const { return path_ / name; }
    const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

std::string bytes_of(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

/// The station, written and read back once for all tests.
const Model& station() {
    static const Model model = [] {
        const TemporaryFolder folder;
        write_demo_assembly(folder / "station.step");
        return load(folder / "station.step");
    }();
    return model;
}

const Solid& solid_named(const std::string& name) {
    for (const Solid& solid : station().solids()) {
        if (solid.name() == name) return solid;
    }
    FAIL("the station has no " << name);
    return station().solids().front();
}

/// Area of the part of a circle beyond a chord at `distance` from its centre (0 <= distance <=
/// radius).
double cap_area(double radius, double distance) {
    return radius * radius * std::acos(distance / radius) -
           distance * std::sqrt(radius * radius - distance * distance);
}

/// What rounding a corner takes away, four times.
double rounded_corners(double radius) { return (4.0 - pi) * radius * radius; }

double common_volume(const TopoDS_Shape& a, const TopoDS_Shape& b) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(BRepAlgoAPI_Common(a, b).Shape(), properties);
    return properties.Mass();
}

double distance(const Solid& a, const Solid& b) {
    return BRepExtrema_DistShapeShape(shape_of(a), shape_of(b)).Value();
}

}  // namespace

TEST_CASE("the station: twelve parts, twenty-three pieces and the five counters of the digits") {
    const Model& model = station();
    CHECK(model.unit() == "mm");
    CHECK(model.notes().empty());
    CHECK(model.solids().size() == 28);
    CHECK(model.shape_count() == 17);
    std::map<std::string, int> quantities;
    for (const Solid& solid : model.solids()) {
        ++quantities[solid.name()];
        CAPTURE(solid.name());
        CHECK(BRepCheck_Analyzer(shape_of(solid)).IsValid());
        CHECK(solid.notes().empty());
        CHECK(solid.color().has_value());
        CHECK(solid.path().size() == 3);
        CHECK(solid.path().front() == "bird-feeding station");
    }
    CHECK(quantities == std::map<std::string, int>{{"base plate", 1},
                                                   {"post", 4},
                                                   {"cross brace", 2},
                                                   {"tray floor", 1},
                                                   {"tray side", 2},
                                                   {"tray end", 2},
                                                   {"hanger", 2},
                                                   {"house number (1)", 1},
                                                   {"house number (2)", 1},
                                                   {"house number (3)", 1},
                                                   {"house number (4)", 1},
                                                   {"house number (5)", 1},
                                                   {"house number (6)", 1},
                                                   {"gable", 2},
                                                   {"gutter", 2},
                                                   {"roof panel", 2},
                                                   {"perch disc", 2}});
}

TEST_CASE("volumes are outline times thickness, by closed forms") {
    const auto volume_is = [](const std::string& name, double area, double thickness) {
        CAPTURE(name);
        CHECK(solid_named(name).volume() == doctest::Approx(area * thickness).epsilon(1e-9));
    };
    volume_is("base plate",
              240.0 * 160.0 - rounded_corners(18.0) - 4.0 * 14.0 * 6.0 - 4.0 * pi * 9.0, 6.0);
    volume_is("post", 30.0 * 150.0 + 2.0 * 14.0 * 6.0 - 3.0 * 20.0, 6.0);
    // The arc of the brace has a chord of 94 mm and a sagitta of 8 mm.
    const double radius = (47.0 * 47.0 + 64.0) / 16.0;
    volume_is("cross brace",
              94.0 * 60.0 + 2.0 * 6.0 * 20.0 - cap_area(radius, radius - 8.0) - pi * 30.0 * 14.0,
              3.0);
    volume_is("tray floor",
              260.0 * 190.0 - rounded_corners(15.0) - 4.0 * (14.0 * 6.0) - 8.0 * (20.0 * 3.0) -
                  4.0 * (20.0 * 6.0) - 2.0 * (12.0 * 3.0) - 4.0 * (19.0 * 5.0 + pi * 2.5 * 2.5) -
                  15.0 * pi * 9.0,
              6.0);
    volume_is("tray side", 214.0 * 30.0 + 2.0 * 3.0 * 10.0 + 2.0 * 20.0 * 6.0, 3.0);
    volume_is("tray end", 157.0 * 30.0 + 4.0 * 3.0 * 10.0 + 2.0 * 20.0 * 6.0, 3.0);
    volume_is("hanger",
              pi * (14.0 * 14.0 - 6.0 * 6.0) / 2.0 + pi * 16.0 / 2.0 + 8.0 * 30.0 + 18.0 * 10.0 +
                  12.0 * 6.0,
              3.0);
    volume_is("roof panel",
              180.0 * (slope_length() + 13.0) - rounded_corners(10.0) / 2.0 - 2.0 * 6.0 * 20.0,
              3.0);
    volume_is("perch disc", pi * (24.0 * 24.0 - 16.0 * 16.0), 3.0);
    volume_is("house number (2)", pi * 4.0 * 7.0, 3.0);
    volume_is("house number (3)", pi * 9.0, 3.0);
    volume_is("house number (4)", pi * 2.75 * 2.75, 3.0);
    volume_is("house number (5)", pi * 1.75 * 1.75, 3.0);
    volume_is("house number (6)", pi * 9.0, 3.0);
}

TEST_CASE("the digits' cut-outs: circles joined at their common chord, a tail of two arcs") {
    // 8: two discs less their lens. 6 and 9: a disc and the part of a ring's sector outside it.
    const double low = 5.75, high = 4.75, apart = 9.5;
    const double rise = (apart * apart + low * low - high * high) / (2.0 * apart);
    const double eight =
        pi * (low * low + high * high) - cap_area(low, rise) - cap_area(high, apart - rise);
    // The tail lies between the arcs of radius 14 and 11 about (8, 0) (from the bowl's centre),
    // from the direction of 180 to 110 degrees; the bowl covers what is within 6 of the origin. In
    // the direction a the bowl covers the tail from the outer arc inwards to its far side;
    // integrated numerically.
    double tail = 0.0;
    const int steps = 200000;
    const double from = 110.0 * pi / 180.0;
    for (int i = 0; i < steps; ++i) {
        const double a = from + (i + 0.5) * (pi - from) / steps;
        // |(8,0) + r (cos a, sin a)| = 6: the far and the near root.
        const double b = 8.0 * std::cos(a), discriminant = b * b - 28.0;
        const double near = discriminant > 0.0 ? -b - std::sqrt(discriminant) : 14.0;
        const double far = discriminant > 0.0 ? -b + std::sqrt(discriminant) : 14.0;
        const auto ring = [](double r0, double r1) {
            return r1 > r0 ? (r1 * r1 - r0 * r0) / 2.0 : 0.0;
        };
        const double covered = ring(std::max(near, 11.0), std::min(far, 14.0));
        tail += (ring(11.0, 14.0) - (discriminant > 0.0 ? covered : 0.0)) * (pi - from) / steps;
    }
    const double six = pi * 36.0 + tail;
    const double area =
        112.0 * 28.0 - rounded_corners(4.0) - pi * 70.0 - 2.0 * six - eight - 2.0 * pi * 1.5 * 1.5;
    CHECK(solid_named("house number (1)").volume() == doctest::Approx(area * 3.0).epsilon(1e-7));
}

TEST_CASE("the gable's outline: straight base, splines, slopes with tabs, an arc on top") {
    // Green's theorem along the right half: spline, slope, arc; base and axis add nothing. The
    // spline by de Boor's recursion (A Practical Guide to Splines, 1978, chapter X), so not by the
    // kernel.
    const std::array<Point2, 6> poles = {
        {{60, 0}, {60, 16}, {48, 34}, {50, 58}, {62, 66}, {70, 80}}};
    const std::array<double, 10> knots = {0, 0, 0, 0, 1.0 / 3, 2.0 / 3, 1, 1, 1, 1};
    const auto spline = [&](double t) {
        const size_t span = t < 1.0 / 3 ? 3 : t < 2.0 / 3 ? 4 : 5;
        std::array<Point2, 4> d;
        for (size_t j = 0; j < 4; ++j) d[j] = poles[span - 3 + j];
        for (size_t r = 1; r < 4; ++r) {
            for (size_t j = 3; j >= r; --j) {
                const size_t i = span - 3 + j;
                const double a = (t - knots[i]) / (knots[i + 4 - r] - knots[i]);
                d[j] = (1.0 - a) * d[j - 1] + a * d[j];
            }
        }
        return d[3];
    };
    double right = 0.0, perimeter = 0.0;
    const int steps = 300000;
    for (int i = 0; i < steps; ++i) {
        const Point2 from = spline(double(i) / steps), to = spline(double(i + 1) / steps);
        right += cross(from, to) / 2.0;
        perimeter += 2.0 * (to - from).norm();
    }
    const double top = 20.0;
    const Point2 center(0.0, ridge_height() - top / std::cos(roof_slope));
    const Point2 tangent = center + top * Vector2(std::sin(roof_slope), std::cos(roof_slope));
    right += cross({70.0, 80.0}, tangent) / 2.0;
    right += (top * top * roof_slope + center.y() * top * std::sin(roof_slope)) / 2.0;
    const double area =
        2.0 * right + 2.0 * 20.0 * 6.0 + 2.0 * 20.0 * 3.0 - pi * 16.0 * 16.0 - pi * 16.0;
    // The spline walls by the kernel's Gauss rule, which does not stop at knots.
    CHECK(solid_named("gable").volume() == doctest::Approx(area * 6.0).epsilon(1e-7));

    perimeter += 2.0 * ((tangent - Point2(70.0, 80.0)).norm() + top * roof_slope + 60.0);
    perimeter += 4.0 * 6.0 + 4.0 * 3.0 + 2.0 * pi * (16.0 + 4.0);  // sides of the tabs, holes
    // The spline walls by the kernel's Gauss rule: not exact, as arc length is no polynomial.
    CHECK(solid_named("gable").surface_area() ==
          doctest::Approx(2.0 * area + 6.0 * perimeter).epsilon(1e-6));
}

TEST_CASE("the plates fit: none cuts into another, tabs touch the slots they stand in") {
    const std::vector<Solid>& solids = station().solids();
    int pairs = 0;
    for (size_t i = 0; i < solids.size(); ++i) {
        for (size_t j = i + 1; j < solids.size(); ++j) {
            const Box3 common = solids[i].bounds().intersection(solids[j].bounds());
            // Boxes that touch only have no common inside.
            if (common.isEmpty() || common.sizes().minCoeff() < 1e-6) continue;
            ++pairs;
            CAPTURE(solids[i].path().back());
            CAPTURE(solids[j].path().back());
            CHECK(common_volume(shape_of(solids[i]), shape_of(solids[j])) < 1e-6);
        }
    }
    CHECK(pairs > 20);
    const auto touch = [&](const std::string& a, const std::string& b) {
        CAPTURE(a);
        CAPTURE(b);
        CHECK(distance(solid_named(a), solid_named(b)) < 1e-9);
    };
    touch("post", "base plate");
    touch("post", "tray floor");
    touch("cross brace", "post");
    touch("tray side", "tray floor");
    touch("tray side", "tray end");
    touch("tray end", "tray floor");
    touch("gable", "tray floor");
    touch("gable", "roof panel");
    touch("hanger", "tray floor");
    touch("perch disc", "gable");
    touch("house number (1)", "tray side");
}

TEST_CASE("the roof panels are tilted by the gable's angle, and lie flat on their own datum") {
    for (const Solid& solid : station().solids()) {
        if (solid.name() != "roof panel") continue;
        const Datum datum = auto_datum(solid);
        CHECK(std::abs(datum.normal().z()) == doctest::Approx(std::cos(roof_slope)).epsilon(1e-9));
        CHECK(std::abs(datum.x().x()) == doctest::Approx(1.0).epsilon(1e-9));
    }
}

TEST_CASE("the same bytes each time") {
    const TemporaryFolder folder;
    write_demo_assembly(folder / "a.step");
    write_demo_assembly(folder / "b.step");
    const std::string first = bytes_of(folder / "a.step");
    CHECK(first.size() > 100000);
    CHECK(first == bytes_of(folder / "b.step"));
}

TEST_CASE("a file that can't be written: an error with the path, and nothing left behind") {
    const TemporaryFolder folder;
    std::ofstream(folder / "file") << "not a folder";
    for (const std::filesystem::path& path :
         {folder / "none" / "a.step", folder / "file" / "a.step", folder.path(),
          std::filesystem::path("/proc/a.step"), std::filesystem::path()}) {
        CAPTURE(path);
        try {
            write_demo_assembly(path);
            FAIL("written where nothing can be written");
        } catch (const WriteError& error) {
            CHECK(error.kind() == ErrorKind::file_unwritable);
            CHECK(std::string(error.what()).find(path.string()) == 0);
        }
    }
    int entries = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder.path())) {
        entries += entry.exists() ? 1 : 0;
    }
    CHECK(entries == 1);
    // A whole file takes the place of an older one.
    std::ofstream(folder / "old.step") << "old";
    write_demo_assembly(folder / "old.step");
    CHECK(bytes_of(folder / "old.step").substr(0, 12) == "ISO-10303-21");
}

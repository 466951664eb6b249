#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepGProp.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <GProp_GProps.hxx>
#include <cmath>
#include <filesystem>
#include <gp_Ax2.hxx>
#include <map>
#include <set>
#include <tuple>

#include "planform/congruence.hpp"
#include "planform/demo.hpp"
#include "planform/occt.hpp"
#include "plate/bodies.hpp"

using namespace planform;

namespace {

/// `count` separate bodies of the shape, each somewhere else.
void add_copies(std::vector<TopoDS_Shape>& bodies, const TopoDS_Shape& shape, int count,
                std::mt19937_64& random) {
    for (int i = 0; i < count; ++i)
        bodies.push_back(parts::copied(shape, parts::random_motion(random)));
}

struct Expected {
    int quantity;
    double thickness;
    double area;
    bool operator<(const Expected& other) const { return area < other.area; }
};

/// Quantities, thicknesses and areas (closed forms) of all plates, by area.
void check_plates(const PlateList& list, std::vector<Expected> expected) {
    REQUIRE(list.plates.size() == expected.size());
    std::vector<Expected> found;
    for (const Plate& plate : list.plates)
        found.push_back({plate.quantity(), plate.thickness, plate.outline.area()});
    std::sort(found.begin(), found.end());
    std::sort(expected.begin(), expected.end());
    for (std::size_t i = 0; i < expected.size(); ++i) {
        CAPTURE(i);
        CHECK(found[i].quantity == expected[i].quantity);
        CHECK(found[i].thickness == doctest::Approx(expected[i].thickness).epsilon(1e-9));
        CHECK(found[i].area == doctest::Approx(expected[i].area).epsilon(1e-9));
    }
}

double disc(double diameter) { return pi * diameter * diameter / 4.0; }

TopoDS_Shape gusset() { return parts::prism({{0, 0}, {80, 0}, {80, 12}, {15, 60}, {0, 60}}, 5.0); }
constexpr double gusset_area = 80.0 * 12.0 + 48.0 * (80.0 + 15.0) / 2.0;

/// A plate with a hole and a blind pocket, no symmetry at all.
TopoDS_Shape pocket_plate(double pocket_x = 70.0) {
    const TopoDS_Shape plate = parts::drilled(parts::box(100.0, 60.0, 8.0), 20.0, 15.0, 10.0);
    return parts::pocketed(plate, pocket_x, 40.0, 14.0, 5.0);
}

TopoDS_Shape countersunk(const TopoDS_Shape& plate, double x, double y) {
    const gp_Ax2 axis(gp_Pnt(x, y, 5.0), gp_Dir(0, 0, 1));
    return BRepAlgoAPI_Cut(parts::drilled(plate, x, y, 6.0),
                           BRepPrimAPI_MakeCone(axis, 3.0, 6.0, 3.0).Shape())
        .Shape();
}

}  // namespace

TEST_CASE("the station: thicknesses, quantities, names") {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() / "planform-plate-test-station.step";
    write_demo_assembly(path);
    const Model model = load(path);
    std::filesystem::remove(path);
    const PlateList list = plates(model);
    // The insides of 0, 6, 8 and 9, though narrower than twice their thickness, lie in the plate.
    CHECK(list.others.empty());
    CHECK(list.flattened >= model.shape_count());
    std::map<std::string, std::pair<int, double>> found;
    for (const Plate& plate : list.plates) {
        found[plate.name] = {plate.quantity(), std::round(plate.thickness * 1e9) / 1e9};
        // A blank is as long as the neutral fibre of its bends, not as their middle.
        const double by_rule = plate.bends.empty() ? 1e-6 : 1e-2;
        CHECK(plate.bends.size() == (plate.name == "gutter" ? 3 : 0));
        CHECK(plate.volume_share == doctest::Approx(1.0).epsilon(by_rule));
        CHECK(plate.cut.is_straight());
        CHECK(plate.surface_share == doctest::Approx(1.0).epsilon(1e-12));
        const auto volume = [&](int solid) {
            return model.solids()[static_cast<std::size_t>(solid)].volume();
        };
        const PlateInstance& first = plate.instances.front();
        double volumes = volume(first.solid);
        for (const int island : first.islands) volumes += volume(island);
        CHECK(plate.volume == doctest::Approx(volumes).epsilon(1e-9));
        CHECK(plate.outline.area() * plate.thickness == doctest::Approx(volumes).epsilon(by_rule));
        const std::size_t islands = plate.name == "house number" ? 5 : 0;
        CHECK(first.islands.size() == islands);
        CHECK(std::count_if(plate.outline.profiles().begin(), plate.outline.profiles().end(),
                            [](const Profile& p) { return p.is_island(); }) ==
              static_cast<long>(islands));
    }
    for (const auto& [name, quantity, thickness] :
         std::vector<std::tuple<std::string, int, double>>{{"base plate", 1, 6.0},
                                                           {"post", 4, 6.0},
                                                           {"cross brace", 2, 3.0},
                                                           {"tray floor", 1, 6.0},
                                                           {"tray side", 2, 3.0},
                                                           {"tray end", 2, 3.0},
                                                           {"hanger", 2, 3.0},
                                                           {"gable", 2, 6.0},
                                                           {"roof panel", 2, 3.0},
                                                           {"perch disc", 2, 3.0},
                                                           {"gutter", 2, 1.0},
                                                           {"house number", 1, 3.0}}) {
        CAPTURE(name);
        CHECK(found[name] == std::pair(quantity, thickness));
    }
    int pieces = 0;
    for (const Plate& plate : list.plates) pieces += plate.quantity();
    CHECK(pieces == 23);
}

TEST_CASE("handbook assembly 1: a box of five boards, copies moved, split and turned inside out") {
    std::mt19937_64 random(1);
    const TopoDS_Shape side = parts::prism(
        {{0, 0}, {120, 0}, {120, 20}, {126, 20}, {126, 40}, {120, 40}, {120, 60}, {0, 60}}, 6.0);
    std::vector<TopoDS_Shape> bodies;
    add_copies(bodies, side, 2, random);
    add_copies(bodies, parts::split_faces(side, 50.0), 2, random);
    add_copies(bodies, parts::drilled(parts::box(120.0, 120.0, 6.0), 60.0, 60.0, 30.0), 1, random);
    check_plates(parts::plates_of(bodies),
                 {{4, 6.0, 120.0 * 60.0 + 6.0 * 20.0}, {1, 6.0, 14400.0 - disc(30.0)}});
}

TEST_CASE("handbook assembly 2: flanges, a shim and turned bolts") {
    std::mt19937_64 random(2);
    TopoDS_Shape flange = parts::drilled(parts::cylinder(60.0, 10.0), 0.0, 0.0, 50.0);
    for (int i = 0; i < 6; ++i)
        flange =
            parts::drilled(flange, 45.0 * std::cos(i * pi / 3), 45.0 * std::sin(i * pi / 3), 9);
    const TopoDS_Shape shim = parts::drilled(parts::cylinder(35.0, 1.0), 0.0, 0.0, 50.0);
    const TopoDS_Shape bolt =
        BRepAlgoAPI_Fuse(parts::cylinder(4.0, 40.0), parts::cylinder(7.0, 6.0)).Shape();
    std::vector<TopoDS_Shape> bodies;
    add_copies(bodies, bolt, 6, random);
    add_copies(bodies, flange, 2, random);
    add_copies(bodies, parts::mirrored(flange), 1, random);  // its own mirror image
    add_copies(bodies, shim, 1, random);
    const PlateList list = parts::plates_of(bodies);
    check_plates(list, {{3, 10.0, disc(120.0) - disc(50.0) - 6.0 * disc(9.0)},
                        {1, 1.0, disc(70.0) - disc(50.0)}});
    for (const Plate& plate : list.plates)
        for (const PlateInstance& instance : plate.instances) CHECK_FALSE(instance.turned_over);
    REQUIRE(list.others.size() == 6);
    for (const OtherPart& other : list.others) CHECK(other.reason == NotFlat::turned_part);
}

TEST_CASE("handbook assembly 3: gussets, left and right ones are one plate, turned over") {
    std::mt19937_64 random(3);
    std::vector<TopoDS_Shape> bodies;
    add_copies(bodies, gusset(), 2, random);
    add_copies(bodies, parts::mirrored(gusset()), 3, random);
    add_copies(bodies, parts::box(200.0, 150.0, 10.0), 1, random);
    const PlateList list = parts::plates_of(bodies);
    check_plates(list, {{5, 5.0, gusset_area}, {1, 10.0, 30000.0}});
    // By thickness: the gusset first. A copy with a geometry of its own has no other frame than
    // that of the model: turned over is what that frame shows as a mirror image of the first.
    const Plate& plate = list.plates.front();
    const Model model = from_shape(parts::compound(bodies));
    int over = 0;
    for (const PlateInstance& instance : plate.instances) {
        const Solid& solid = model.solids()[static_cast<std::size_t>(instance.solid)];
        const ProfileSet own = silhouette(std::span(&solid, 1), auto_datum(solid));
        CHECK(find_congruence(plate.outline, own, {0.01, Turning::never}).has_value() !=
              instance.turned_over);
        over += instance.turned_over ? 1 : 0;
    }
    CHECK(over > 0);
    REQUIRE_FALSE(plate.notes.empty());
    CHECK(plate.notes.front().find("turned over") != std::string::npos);
}

TEST_CASE("handbook assembly 4: pocketed plates, their mirror images stay apart") {
    std::mt19937_64 random(4);
    std::vector<TopoDS_Shape> bodies;
    add_copies(bodies, pocket_plate(), 3, random);
    add_copies(bodies, parts::mirrored(pocket_plate()), 2, random);
    add_copies(bodies, pocket_plate(70.02), 1, random);
    // A pocket on the middle line: the mirror image is the same plate.
    const TopoDS_Shape even = parts::pocketed(parts::box(100.0, 62.0, 8.0), 30.0, 31.0, 14.0, 5.0);
    add_copies(bodies, even, 1, random);
    add_copies(bodies, parts::mirrored(even), 1, random);
    const PlateList list = parts::plates_of(bodies);
    REQUIRE(list.others.empty());
    std::multiset<int> quantities;
    int mirror_notes = 0;
    for (const Plate& plate : list.plates) {
        quantities.insert(plate.quantity());
        for (const std::string& note : plate.notes)
            mirror_notes += note.find("mirror image of") != std::string::npos ? 1 : 0;
        CHECK(plate.volume_share < 1.0);
        // The side that carries the pocket lies up.
        REQUIRE(plate.cut.features.size() == 1);
        CHECK(plate.cut.features.front().side == FeatureSide::top);
        CHECK(plate.side.features_up);
    }
    CHECK(quantities == std::multiset<int>{1, 2, 2, 3});
    CHECK(mirror_notes == 1);
    // At 0.05 mm the pocket that is 0.02 mm off counts as the same.
    PlateOptions coarse;
    coarse.same_within = 0.05;
    CHECK(parts::plates_of(bodies, coarse).plates.size() == 3);
}

TEST_CASE("handbook assembly 5: countersunk covers, spacers, and parts that differ by 0.02 mm") {
    std::mt19937_64 random(5);
    const TopoDS_Shape cover = countersunk(countersunk(parts::box(90, 50, 8), 15, 25), 75, 25);
    std::vector<TopoDS_Shape> bodies;
    add_copies(bodies, cover, 2, random);
    add_copies(bodies, parts::drilled(parts::cylinder(20.0, 3.0), 8.0, 0.0, 6.0), 2, random);
    add_copies(bodies, parts::drilled(parts::cylinder(20.0, 3.0), 8.02, 0.0, 6.0), 1, random);
    add_copies(bodies, parts::box(70.0, 40.0, 4.0), 2, random);
    add_copies(bodies, parts::box(70.02, 40.0, 4.0), 1, random);
    add_copies(bodies, parts::box(70.0, 40.0, 4.02), 1, random);
    add_copies(bodies, parts::box(70.0, 40.004, 4.003), 1, random);  // within the tolerance
    const PlateList list = parts::plates_of(bodies);
    std::multiset<int> quantities;
    for (const Plate& plate : list.plates) quantities.insert(plate.quantity());
    CHECK(list.others.empty());
    CHECK(quantities == std::multiset<int>{1, 1, 1, 2, 2, 3});
}

TEST_CASE("the order doesn't depend on the order of the bodies") {
    std::mt19937_64 random(6);
    std::vector<TopoDS_Shape> bodies{gusset(), parts::box(200.0, 150.0, 10.0),
                                     parts::box(30.0, 40.0, 5.0), parts::box(70.0, 40.0, 4.0)};
    const auto key = [](const PlateList& list) {
        std::vector<std::pair<double, long>> result;
        for (const Plate& plate : list.plates)
            result.emplace_back(std::round(plate.thickness * 1e6),
                                std::lround(plate.outline.area()));
        return result;
    };
    const auto first = key(parts::plates_of(bodies));
    std::reverse(bodies.begin(), bodies.end());
    CHECK(key(parts::plates_of(bodies)).front() == first.front());
    CHECK(key(parts::plates_of(bodies)).back() == first.back());
}

TEST_CASE("instances of one shape are looked at once") {
    std::mt19937_64 random(7);
    std::vector<TopoDS_Shape> bodies;
    for (const TopoDS_Shape& shape : {gusset(), parts::box(200.0, 150.0, 10.0)})
        for (int i = 0; i < 50; ++i)
            bodies.push_back(shape.Moved(TopLoc_Location(parts::random_motion(random))));
    const PlateList list = parts::plates_of(bodies);
    CHECK(list.flattened == 2);
    check_plates(list, {{50, 5.0, gusset_area}, {50, 10.0, 30000.0}});
}

TEST_CASE("area, cut length and volume against the kernel's own sums") {
    const TopoDS_Shape plate =
        parts::drilled(parts::drilled(gusset(), 12.0, 12.0, 8.0), 40.0, 18.0, 11.0);
    const PlateList list = parts::plates_of({plate});
    REQUIRE(list.plates.size() == 1);
    GProp_GProps volume, surface;
    BRepGProp::VolumeProperties(plate, volume);
    BRepGProp::SurfaceProperties(plate, surface);
    const Plate& found = list.plates.front();
    CHECK(found.volume == doctest::Approx(volume.Mass()).epsilon(1e-9));
    CHECK(found.outline.area() * 5.0 == doctest::Approx(volume.Mass()).epsilon(1e-9));
    // Two faces and the walls: 2 A + L t.
    CHECK(2.0 * found.outline.area() + 5.0 * found.outline.length() ==
          doctest::Approx(surface.Mass()).epsilon(1e-9));
}

/// Variants of what is no plate and of what is one: thick and thin, drilled, filleted, as drawn,
/// turned and moved. What a body is follows from how it is made.

#include <doctest/doctest.h>

#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakePolygon.hxx>
#include <BRepFilletAPI_MakeChamfer.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakeCone.hxx>
#include <BRepPrimAPI_MakeCylinder.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepPrimAPI_MakeRevol.hxx>
#include <BRep_Tool.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <functional>
#include <gp_Ax1.hxx>
#include <gp_Ax2.hxx>

#include "plate/variant_bodies.hpp"

using namespace planform;
using namespace parts;

namespace {

using Body = std::function<TopoDS_Shape(double)>;  ///< of a thickness, mm

struct Case {
    std::string name;
    Body body;
};

/// As drawn, drilled and turned, of each thickness.
void for_each_variant(const std::vector<Case>& cases, const std::vector<double>& thicknesses,
                      const std::function<void(const TopoDS_Shape&)>& check) {
    std::mt19937_64 random(20);
    int seen = 0;
    for (const Case& each : cases) {
        for (const double thickness : thicknesses) {
            CAPTURE(each.name);
            CAPTURE(thickness);
            const TopoDS_Shape body = each.body(thickness);
            check(body);
            check(parts::copied(body, parts::random_motion(random)));
            check(parts::mirrored(body));
            ++seen;
        }
    }
    CHECK(seen == static_cast<int>(cases.size() * thicknesses.size()));
}

void check_refused(const std::vector<Case>& cases, const std::vector<double>& thicknesses,
                   NotFlat reason) {
    for_each_variant(cases, thicknesses, [&](const TopoDS_Shape& body) {
        const PlateList list = parts::plates_of({body});
        CHECK(list.plates.empty());
        REQUIRE(list.others.size() == 1);
        CAPTURE(list.others.front().text);
        CHECK(word_for(list.others.front().reason) == word_for(reason));
    });
}

/// Bent sheets: cut as their blanks, or refused as such.
void check_bent(const std::vector<Case>& cases, const std::vector<double>& thicknesses,
                bool unfolds) {
    for_each_variant(cases, thicknesses, [&](const TopoDS_Shape& body) {
        const PlateList list = parts::plates_of({body});
        if (unfolds) {
            REQUIRE(list.plates.size() == 1);
            CHECK(!list.plates.front().bends.empty());
            return;
        }
        CHECK(list.plates.empty());
        REQUIRE(list.others.size() == 1);
        CAPTURE(list.others.front().text);
        CHECK(list.others.front().reason == NotFlat::bent_sheet);
    });
}

}  // namespace

TEST_CASE("variants: bent sheets, folded sharp and round, short and long, drilled and rounded") {
    const std::vector<Case> cases{
        {"angle",
         [](double t) {
             return folded({{0, 0}, {80, 0}, {80, 40}}, t);
         }},
        {"angle, equal legs",
         [](double t) {
             return folded({{0, 0}, {60, 0}, {60, 60}}, t);
         }},
        {"channel",
         [](double t) {
             return folded({{0, 30}, {0, 0}, {80, 0}, {80, 30}}, t);
         }},
        {"deep channel",
         [](double t) {
             return folded({{0, 90}, {0, 0}, {40, 0}, {40, 90}}, t);
         }},
        {"zed",
         [](double t) {
             return folded({{0, 0}, {50, 0}, {50, 35}, {100, 35}}, t);
         }},
        {"hat",
         [](double t) {
             return folded({{0, 0}, {30, 0}, {30, 25}, {80, 25}, {80, 0}, {110, 0}}, t);
         }},
        {"angle, drilled",
         [](double t) {
             const TopoDS_Shape angle = folded({{0, 0}, {80, 0}, {80, 40}}, t);
             return without(without(angle, rod({20, -10, 20}, gp::DY(), 4.0, 40.0)),
                            rod({70, 25, 30}, gp::DX(), 5.0, 40.0));
         }},
    };
    check_bent(cases, {0.8, 2.0, 4.0}, true);
    // A ring of walls, and a wing whose round end stands out past the other wing.
    const std::vector<Case> others{
        {"angle with a disc",
         [](double t) {
             // A wing that ends in a disc.
             const TopoDS_Shape wing = block(0, 0, 0, 60, t, 60);
             const TopoDS_Shape up = rod({0, 20, 30}, gp::DX(), 30.0, t);
             return fused(fused(wing, block(0, 0, 0, t, 20, 60)), up);
         }},
        {"hollow section",
         [](double t) {
             return without(block(0, 0, 0, 50, 40, 90), block(t, t, -1, 50 - t, 40 - t, 99));
         }},
    };
    check_bent(others, {0.8, 2.0, 4.0}, false);
    const std::vector<Case> round{
        {"angle, bent round", [](double t) { return bent(t, 2.0 * t, 60.0, 40.0); }},
        {"angle, bent round, drilled",
         [](double t) {
             return without(
                 without(bent(t, t, 60.0, 40.0), rod({30, 20, 30}, -gp::DY(), 6.0, 60.0)),
                 rod({-30, 20, 20}, gp::DX(), 5.0, 40.0));
         }},
        {"angle with a large radius", [](double t) { return bent(t, 40.0, 30.0, 30.0); }},
    };
    check_bent(round, {0.8, 2.0, 4.0}, true);
}

TEST_CASE("variants: rolled sheets") {
    const auto shell = [](double t) {
        return without(rod({0, 0, 0}, gp::DZ(), 30.0, 80.0),
                       rod({0, 0, -1}, gp::DZ(), 30.0 - t, 90.0));
    };
    const std::vector<Case> open{
        {"gutter", [&](double t) { return without(shell(t), block(-50, 0, -1, 50, 50, 99)); }},
        {"quarter shell",
         [&](double t) {
             return without(without(shell(t), block(-50, 0, -1, 50, 50, 99)),
                            block(0, -50, -1, 50, 50, 99));
         }},
        {"tube with a slit",
         [&](double t) { return without(shell(t), block(-2, 0, -1, 2, 50, 99)); }},
    };
    check_bent(open, {0.8, 2.0}, true);
    check_refused({{"tube", shell}}, {0.8, 2.0, 8.0}, NotFlat::turned_part);
}

TEST_CASE("variants: draft, drilled, round, long") {
    const auto pyramid = [](double t, double long_side, double lean) {
        const double in = t * std::tan(lean);
        TopoDS_Shape body = parts::box(long_side, 60.0, t);
        for (const double end : {0.0, long_side}) {
            const double sign = end > 0.0 ? -1.0 : 1.0;
            BRepBuilderAPI_MakePolygon wedge;
            for (const auto& [x, z] : parts::Corners{{end, 0},
                                                     {end - sign, 0},
                                                     {end - sign, t + 1},
                                                     {end + sign * in, t + 1},
                                                     {end + sign * in, t}})
                wedge.Add(gp_Pnt(x, -1.0, z));
            wedge.Close();
            body = without(body, BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wedge.Wire()).Face(),
                                                       gp_Vec(0, 99, 0))
                                     .Shape());
        }
        for (const double end : {0.0, 60.0}) {
            const double sign = end > 0.0 ? -1.0 : 1.0;
            BRepBuilderAPI_MakePolygon wedge;
            for (const auto& [y, z] : parts::Corners{{end, 0},
                                                     {end - sign, 0},
                                                     {end - sign, t + 1},
                                                     {end + sign * in, t + 1},
                                                     {end + sign * in, t}})
                wedge.Add(gp_Pnt(-1.0, y, z));
            wedge.Close();
            body = without(body, BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(wedge.Wire()).Face(),
                                                       gp_Vec(999, 0, 0))
                                     .Shape());
        }
        return body;
    };
    const std::vector<Case> cases{
        {"by 2 degrees", [&](double t) { return pyramid(t, 100.0, pi / 90.0); }},
        {"by 15 degrees, long", [&](double t) { return pyramid(t, 300.0, pi / 12.0); }},
        {"by 5 degrees, drilled",
         [&](double t) { return parts::drilled(pyramid(t, 100.0, pi / 36.0), 30.0, 30.0, 6.0); }},
        {"round",
         [](double t) {
             return revolved({{0, 0}, {40, 0}, {40 - t / 10, t}, {0, t}});
         }},
    };
    check_refused(cases, {2.0, 8.0}, NotFlat::draft);
}

TEST_CASE("variants: turned parts") {
    const std::vector<Case> cases{
        {"stepped shaft",
         [](double t) {
             return revolved({{0, 0},
                              {4 + t, 0},
                              {4 + t, 20},
                              {8 + t, 20},
                              {8 + t, 45},
                              {5 + t, 45},
                              {5 + t, 70},
                              {0, 70}});
         }},
        {"shaft with a cross hole",
         [](double t) {
             return without(
                 revolved({{0, 0}, {9 + t, 0}, {9 + t, 20}, {6 + t, 20}, {6 + t, 70}, {0, 70}}),
                 rod({-30, 0, 50}, gp::DX(), 2.0, 60.0));
         }},
        {"bolt without a drive",
         [](double t) {
             return revolved({{0, 0}, {9, 0}, {9, 3 + t}, {4, 3 + t}, {4, 40}, {0, 40}});
         }},
        {"cone",
         [](double t) {
             return revolved({{0, 0}, {20, 0}, {10 + t, 40}, {0, 40}});
         }},
        {"pulley",
         [](double t) {
             return revolved({{5, 0},
                              {25, 0},
                              {25, 3},
                              {15, 8 + t},
                              {25, 13 + 2 * t},
                              {25, 16 + 2 * t},
                              {5, 16 + 2 * t}});
         }},
        {"flanged bush",
         [](double t) {
             return revolved({{6, 0}, {30, 0}, {30, t}, {10, t}, {10, 30}, {6, 30}});
         }},
        {"cup",
         [](double t) {
             return revolved({{0, 0}, {30, 0}, {30, 25}, {30 - t, 25}, {30 - t, t}, {0, t}});
         }},
        {"dished washer",
         [](double t) {
             return revolved({{8, 0}, {20, 4}, {20, 4 + t}, {8, t}});
         }},
    };
    check_refused(cases, {1.0, 3.0}, NotFlat::turned_part);
}

TEST_CASE("variants: blocks") {
    const std::vector<Case> cases{
        {"cube", [](double t) { return parts::box(10 * t, 10 * t, 10 * t); }},
        {"bar", [](double t) { return parts::box(4 * t, 3 * t, 60 * t); }},
        {"block, drilled",
         [](double t) {
             return parts::drilled(parts::box(12 * t, 10 * t, 9 * t), 4 * t, 5 * t, 3 * t);
         }},
        {"block, edges rounded",
         [](double t) { return rounded_upright_edges(parts::box(12 * t, 10 * t, 9 * t), t); }},
        {"hexagonal bar",
         [](double t) {
             parts::Corners corners;
             for (int i = 0; i < 6; ++i)
                 corners.emplace_back(5 * t * std::cos(i * pi / 3), 5 * t * std::sin(i * pi / 3));
             return parts::prism(corners, 40.0 * t);
         }},
    };
    check_refused(cases, {0.5, 2.0, 10.0}, NotFlat::block);
}

TEST_CASE("variants: wedges, drilled and rounded") {
    const std::vector<Case> cases{
        {"wedge",
         [](double t) {
             return parts::prism({{0, 0}, {100, 0}, {100, t}, {0, 10}}, 50.0);
         }},
        {"wedge to an edge",
         [](double t) {
             return parts::prism({{0, 0}, {100, 0}, {0, 6 + t}}, 50.0);
         }},
        {"wedge, drilled",
         [](double t) {
             return without(parts::prism({{0, 0}, {100, 0}, {100, t}, {0, 10}}, 50.0),
                            rod({40, -5, 25}, gp::DY(), 6.0, 50.0));
         }},
    };
    check_refused(cases, {1.0, 4.0, 8.0}, NotFlat::wedge);
}

TEST_CASE("variants: what stands out of the sheet is not cut from it") {
    const std::vector<Case> cases{
        {"studs",
         [](double t) {
             TopoDS_Shape body = plate(t);
             for (const double x : {15.0, 105.0})
                 for (const double y : {12.0, 58.0})
                     body = fused(body, rod({x, y, 0.0}, gp::DZ(), 3.0, t + 15.0));
             return body;
         }},
        {"a rib across", [](double t) { return fused(plate(t), block(58, 0, 0, 63, 70, t + 20)); }},
        {"pins on both sides",
         [](double t) {
             return fused(plate(t), rod({60, 35, -10.0}, gp::DZ(), 4.0, t + 20.0));
         }},
        {"a boss with a hole",
         [](double t) {
             return parts::drilled(fused(plate(t), rod({60, 35, 0.0}, gp::DZ(), 12.0, t + 10.0)),
                                   60.0, 35.0, 10.0);
         }},
    };
    check_refused(cases, {1.0, 3.0, 8.0}, NotFlat::stands_out);
}

TEST_CASE("variants: hollowed bodies and bodies that are milled all over") {
    const std::vector<Case> cases{
        {"tray",
         [](double t) {
             return without(parts::box(120, 70, 20 + t), block(3, 3, 6, 117, 67, 99));
         }},
        {"ring of a channel",
         [](double t) {
             return without(without(parts::box(120, 70, 20 + t), block(25, 25, -1, 95, 45, 99)),
                            without(block(3, 3, 7, 117, 67, 99), block(19, 19, 0, 101, 51, 99)));
         }},
    };
    check_refused(cases, {1.0, 4.0}, NotFlat::hollowed);
    // V grooves across both faces leave narrow lands: a fifth of the material, most of the surface.
    const auto grooved = [](double t) {
        TopoDS_Shape body = plate(t);
        for (int i = 0; i < 11; ++i) {
            const double x = 1.0 + 10.9 * i, w = 8.0, d = 0.3 * t;
            for (const double from : {t, 0.0}) {
                const double to = from > 0.0 ? t - d : d, out = from > 0.0 ? t + 1 : -1.0;
                BRepBuilderAPI_MakePolygon vee;
                for (const auto& [px, pz] : parts::Corners{
                         {x, from}, {x, out}, {x + w, out}, {x + w, from}, {x + w / 2, to}})
                    vee.Add(gp_Pnt(px, -1.0, pz));
                vee.Close();
                body =
                    without(body, BRepPrimAPI_MakePrism(BRepBuilderAPI_MakeFace(vee.Wire()).Face(),
                                                        gp_Vec(0, 99, 0))
                                      .Shape());
            }
        }
        return body;
    };
    check_refused({{"grooved", grooved}}, {3.0, 6.0}, NotFlat::milled);
}

TEST_CASE("variants: plates stay plates") {
    const std::vector<Case> cases{
        {"washer", [](double t) { return parts::drilled(parts::cylinder(20, t), 0, 0, 16.0); }},
        {"washer with chamfers",
         [](double t) {
             return revolved({{8, 0}, {20 - t / 4, 0}, {20, t / 4}, {20, t}, {8, t}});
         }},
        {"disc", [](double t) { return parts::cylinder(20, t); }},
        {"gear", gear},
        {"chamfered edge",
         [](double t) { return dressed<BRepFilletAPI_MakeChamfer>(plate(t), t, t / 3.0); }},
        {"rounded edge",
         [](double t) { return dressed<BRepFilletAPI_MakeFillet>(plate(t), t, t / 3.0); }},
        {"rounded corners", [](double t) { return rounded_upright_edges(plate(t), 12.0); }},
        {"countersinks",
         [](double t) {
             TopoDS_Shape body = plate(t);
             for (const double x : {12.0, 108.0})
                 for (const double y : {12.0, 58.0}) body = countersunk(body, x, y, t);
             return body;
         }},
        {"pocket", [](double t) { return without(plate(t), block(20, 15, t / 2, 80, 55, 99)); }},
        {"many pockets",
         [](double t) {
             TopoDS_Shape body = plate(t);
             for (int i = 0; i < 5; ++i)
                 for (int j = 0; j < 3; ++j)
                     body = without(body, block(5.0 + 23 * i, 5.0 + 22 * j, t / 3, 23.0 + 23 * i,
                                                21.0 + 22 * j, 99));
             return body;
         }},
        {"step along an edge",
         [](double t) { return without(plate(t), block(-1, -1, t / 2, 25, 99, 99)); }},
        {"groove", [](double t) { return without(plate(t), block(-1, 30, t / 2, 200, 40, 99)); }},
        {"perforated",
         [](double t) {
             TopoDS_Shape body = plate(t);
             for (int i = 0; i < 6; ++i)
                 for (int j = 0; j < 4; ++j)
                     body = parts::drilled(body, 15 + 18 * i, 12 + 15 * j, 10.0);
             return body;
         }},
        {"frame", [](double t) { return without(plate(t), block(8, 8, -1, 112, 62, 99)); }},
        {"raised by less than a quarter of the thickness",
         [](double t) {
             return fused(plate(t), rod({60, 35, 0.0}, gp::DZ(), 12.0, 1.2 * t));
         }},
        {"tapped from the side",
         [](double t) {
             return without(plate(t), rod({-1, 35, t / 2}, gp::DX(), t / 5, 30.0));
         }},
    };
    for_each_variant(cases, {1.5, 3.0, 6.0}, [&](const TopoDS_Shape& body) {
        const PlateList list = parts::plates_of({body});
        if (!list.others.empty()) CAPTURE(list.others.front().text);
        CHECK(list.plates.size() == 1);
    });
}

#pragma once

/// The features of a body, seen in every way that must not matter.

#include <doctest/doctest.h>
#include <unistd.h>

#include <STEPControl_Writer.hxx>
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <optional>
#include <sstream>
#include <string>
#include <vector>

#include "flatten/plate_bodies.hpp"
#include "planform/features.hpp"
#include "planform/model.hpp"

namespace bodies {

using planform::FeatureKind;
using planform::FeatureSide;

/// What is expected of a feature; what is not given is not looked at, but for angle and diameters,
/// which must be missing then.
struct Expected {
    FeatureKind kind;
    FeatureSide side;
    double depth;
    std::optional<double> angle = std::nullopt;
    std::optional<double> width = std::nullopt;
    std::optional<double> diameter = std::nullopt;
    std::optional<double> hole_diameter = std::nullopt;
    std::optional<double> radius = std::nullopt;
};

inline FeatureSide turned_over(FeatureSide side) {
    if (side == FeatureSide::top) return FeatureSide::bottom;
    return side == FeatureSide::bottom ? FeatureSide::top : side;
}

inline std::string listing(const planform::StraightCut& cut) {
    std::string text;
    for (const auto& feature : cut.features) text += "  " + feature.text + "\n";
    return text;
}

inline void check_number(std::optional<double> measured, std::optional<double> expected,
                         double within) {
    REQUIRE(measured.has_value() == expected.has_value());
    if (expected) CHECK(std::abs(*measured - *expected) < within * std::max(1.0, *expected));
}

/// Looked for in any order.
inline void check_found(const planform::StraightCut& cut, std::vector<Expected> expected,
                        double within) {
    INFO("found:\n" << listing(cut));
    CHECK(cut.thickness() == doctest::Approx(plate_thickness).epsilon(1e-9));
    REQUIRE(cut.features.size() == expected.size());
    for (const planform::UncuttableFeature& feature : cut.features) {
        const auto same = std::find_if(expected.begin(), expected.end(), [&](const Expected& e) {
            return e.kind == feature.kind && e.side == feature.side &&
                   std::abs(e.depth - feature.depth) < within * std::max(1.0, e.depth);
        });
        INFO("this one: " << feature.text);
        REQUIRE(same != expected.end());
        check_number(feature.angle, same->angle, within);
        check_number(feature.width, same->width, within);
        check_number(feature.diameter, same->diameter, within);
        check_number(feature.hole_diameter, same->hole_diameter, within);
        check_number(feature.radius, same->radius, within);
        CHECK(!feature.faces.empty());
        CHECK(!feature.text.empty());
        expected.erase(same);
    }
}

inline planform::StraightCut looked_at(const TopoDS_Shape& shape, const planform::Datum& datum) {
    const auto solids = solids_of(shape);
    REQUIRE(solids.size() == 1);
    return planform::straight_cut(solids[0], datum);
}

/// The body as STEP and back.
inline TopoDS_Shape through_step(const TopoDS_Shape& shape) {
    const auto path = std::filesystem::temp_directory_path() /
                      ("planform_features_" + std::to_string(getpid()) + ".step");
    std::ostringstream said;  // the kernel's writer talks
    std::streambuf* const before = std::cout.rdbuf(said.rdbuf());
    STEPControl_Writer writer;
    writer.Transfer(shape, STEPControl_AsIs);
    const bool written = writer.Write(path.c_str()) == IFSelect_RetDone;
    std::cout.rdbuf(before);
    REQUIRE(written);
    const planform::Model model = planform::load(path);
    std::filesystem::remove(path);
    REQUIRE(model.solids().size() == 1);
    return planform::shape_of(model.solids()[0]);
}

/// As drawn, turned over, moved in space and through STEP. A cross hole's depth is that below the
/// top: give its mirror image for the other side.
inline void check_everywhere(const TopoDS_Shape& shape, const std::vector<Expected>& expected,
                             double within = 1e-9) {
    std::vector<Expected> over = expected;
    for (Expected& e : over) {
        e.side = turned_over(e.side);
        if (e.kind == FeatureKind::cross_hole) e.depth = plate_thickness - e.depth;
    }
    const planform::Datum below(planform::Point3(3, 2, 1), planform::Vector3(0, 0, -1));
    const Placed moved = placed(shape);
    const TopoDS_Shape read = through_step(moved.shape);
    const auto check = [&](const std::string& seen, const TopoDS_Shape& body,
                           const planform::Datum& datum, const std::vector<Expected>& features) {
        INFO("seen: " << seen);
        check_found(looked_at(body, datum), features, within);
    };
    check("as drawn", shape, planform::Datum::xy(), expected);
    check("turned over", shape, below, over);
    check("moved", moved.shape, moved.datum, expected);
    check("moved, from below", moved.shape, moved.from_below, over);
    check("through STEP", read, moved.datum, expected);
}

}  // namespace bodies

#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <limits>
#include <optional>
#include <set>
#include <string>

#include "contact/assemblies.hpp"
#include "contact/outline_walls.hpp"
#include "contact/piece_motion.hpp"
#include "planform/allowance.hpp"
#include "planform/demo.hpp"
#include "planform/error.hpp"

using namespace planform;
using namespace assemblies;

namespace {

template <class Visit>
void for_each_curve(const ProfileSet& set, Visit&& visit) {
    int profile = 0;
    for (const Profile& part : set.profiles()) {
        const auto contour = [&](const Contour& chain, int number) {
            int index = 0;
            for (const Curve& curve : chain.curves())
                visit(CurveAddress{profile, number, index++}, curve);
        };
        contour(part.outer(), 0);
        int hole = 0;
        for (const Contour& chain : part.holes()) contour(chain, ++hole);
        ++profile;
    }
}

/// From a place to the wall of a part along the direction, mm: the nearest of its curves that runs
/// square to it. Positive: the wall lies on.
double way_to_wall(const ProfileSet& part, const Point2& place, const Vector2& direction) {
    double nearest = std::numeric_limits<double>::infinity();
    for_each_curve(part, [&](const CurveAddress&, const Curve& curve) {
        const double t = nearest_parameter(curve, place);
        const Vector2 along = derivative_at(curve, t).normalized();
        if (Vector2(along.y(), -along.x()).dot(direction) < 1.0 - 1e-9) return;
        const Vector2 way = point_at(curve, t) - place;
        if (std::abs(cross(way, direction)) > 1e-6) return;
        if (std::abs(way.dot(direction)) < std::abs(nearest)) nearest = way.dot(direction);
    });
    return nearest;
}

struct Check {
    int gaps = 0, seats = 0, unmoved = 0;
    double worst = 0.0;
};

/// Cuts all plates of an assembly with a kerf and a fit and measures, in the assembly's frame, the
/// gaps between what touched before.
Check cut_and_measure(const Model& model, double kerf, double fit, FitOn fit_on) {
    const PlateList list = plates(model);
    const std::vector<PlacedOutline> pieces = placed_outlines(list);
    const std::vector<Contact> touching = contacts(model.solids());
    std::vector<ProfileSet> outlines;
    for (const Plate& plate : list.plates) outlines.push_back(plate.outline);
    const Mating mates = mating(model.solids(), outlines, pieces, touching, fit_on);

    std::vector<ProfileSet> parts;
    std::vector<contact::OutlineWalls> walls;
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        Allowance allowance;
        allowance.kerf = kerf;
        allowance.fit = fit;
        allowance.fits = fits_of(mates.outlines[i], fit);
        // What the tool leaves of the sheet: half of the kerf within its way.
        parts.push_back(offset(as_cut(outlines[i], allowance), -kerf / 2.0).profiles);
        walls.emplace_back(outlines[i]);
    }
    std::vector<int> piece_of(model.solids().size(), -1);
    std::vector<Transform3> motions;
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        for (const int solid : pieces[i].solids)
            piece_of[static_cast<std::size_t>(solid)] = static_cast<int>(i);
        const auto outline = static_cast<std::size_t>(pieces[i].outline);
        motions.push_back(*contact::piece_motion(model.solids(), pieces[i], outlines[outline]));
    }

    Check check;
    for (const Contact& contact : touching)
        for (const ContactPoint& point : contact.points) {
            double gap = 0.0;
            bool is_cut = false, is_seat = true;
            for (std::size_t side = 0; side < 2; ++side) {
                const int piece = piece_of[static_cast<std::size_t>(contact.solids[side])];
                if (piece < 0) continue;
                const auto p = static_cast<std::size_t>(piece);
                const auto o = static_cast<std::size_t>(pieces[p].outline);
                const auto runs = walls[o].touched(contact, static_cast<int>(side), motions[p]);
                if (runs.empty()) continue;
                is_cut = true;
                const Datum& datum = outlines[o].datum();
                const Vector3 normal =
                    motions[p].linear() * (side == 0 ? point.normal : Vector3(-point.normal));
                const Vector2 outward(normal.dot(datum.x()), normal.dot(datum.y()));
                const Point2 place = datum.to_datum(motions[p] * point.place).head<2>();
                gap -= way_to_wall(parts[o], place, outward.normalized());
                for (const MatingCurve& curve : mates.outlines[o].curves)
                    if (curve.at == walls[o].address(runs.front())) is_seat &= curve.is_seat;
            }
            if (!is_cut) continue;
            ++(is_seat ? check.seats : check.gaps);
            check.worst = std::max(check.worst, std::abs(gap - (is_seat ? 0.0 : fit)));
        }
    // What meets nothing has not moved.
    for (std::size_t i = 0; i < outlines.size(); ++i) {
        std::set<CurveAddress> mated;
        for (const MatingCurve& curve : mates.outlines[i].curves) mated.insert(curve.at);
        for_each_curve(outlines[i], [&](const CurveAddress& at, const Curve& curve) {
            if (mated.contains(at) || !std::holds_alternative<Line>(curve)) return;
            const Line& line = std::get<Line>(curve);
            const Vector2 along = (line.end - line.start).normalized();
            const Point2 middle = (line.start + line.end) / 2.0;
            const double moved = way_to_wall(parts[i], middle, {along.y(), -along.x()});
            check.worst = std::max(check.worst, std::abs(moved));
            ++check.unmoved;
        });
    }
    return check;
}

Model demo() {
    const std::filesystem::path path =
        std::filesystem::temp_directory_path() /
        ("planform-gap-" + std::to_string(std::random_device()()) + ".step");
    write_demo_assembly(path);
    const Model model = load(path);
    std::filesystem::remove(path);
    return model;
}

/// An open box of a floor with slots and four sides with tabs and fingers.
Model tray(const gp_Trsf& motion) {
    const double t = 3.0, half = 40.0, height = 24.0;
    std::vector<std::vector<Point2>> slots;
    for (const double s : {-half - t, half}) {
        slots.push_back(rectangle(-12, s, 12, s + t));
        slots.push_back(rectangle(s, -12, s + t, 12));
    }
    const TopoDS_Shape floor = sheet(rectangle(-60, -60, 60, 60), t, slots);
    // Sides along x have the middle finger, those along y the lower and the upper one.
    const double u = half, f = half + t, h = height / 3.0;
    const std::vector<Point2> tab{{-12, 0}, {-12, -t}, {12, -t}, {12, 0}};
    std::vector<Point2> side{{-u, 0}}, end{{-f, 0}};
    side.insert(side.end(), tab.begin(), tab.end());
    end.insert(end.end(), tab.begin(), tab.end());
    for (const Point2& p : std::vector<Point2>{{u, 0},
                                               {u, h},
                                               {f, h},
                                               {f, 2 * h},
                                               {u, 2 * h},
                                               {u, height},
                                               {-u, height},
                                               {-u, 2 * h},
                                               {-f, 2 * h},
                                               {-f, h},
                                               {-u, h}})
        side.push_back(p);
    for (const Point2& p : std::vector<Point2>{{f, 0},
                                               {f, h},
                                               {u, h},
                                               {u, 2 * h},
                                               {f, 2 * h},
                                               {f, height},
                                               {-f, height},
                                               {-f, 2 * h},
                                               {-u, 2 * h},
                                               {-u, h},
                                               {-f, h}})
        end.push_back(p);
    std::vector<TopoDS_Shape> bodies{placed(floor, motion, false)};
    const auto add = [&](const std::vector<Point2>& outline, const Point3& origin,
                         const Vector3& x) {
        gp_Trsf place = motion;
        place.Multiply(frame(origin, x, Vector3::UnitZ()));
        bodies.push_back(placed(sheet(outline, t), place, false));
    };
    add(side, {0, -half, t}, Vector3::UnitX());
    add(side, {0, half + t, t}, Vector3::UnitX());
    add(end, {half, 0, t}, Vector3::UnitY());
    add(end, {-half - t, 0, t}, Vector3::UnitY());
    return model_of(bodies);
}

}  // namespace

TEST_CASE("cut with a kerf and a fit, the gap of what meets is the fit, and all else stays") {
    std::mt19937_64 random(20261201);
    std::vector<std::pair<std::string, Model>> assemblies;
    for (const int sides : {3, 4, 5, 6})
        for (const int levels : {3, 6}) {
            const FingerRing ring{sides, levels};
            assemblies.emplace_back(
                "ring of " + std::to_string(sides) + ", " + std::to_string(levels) + " levels",
                model_of(ring.bodies(random_motion(random), levels == 3)));
        }
    assemblies.emplace_back("tray", tray(random_motion(random)));
    const double t = 4.0;
    const TopoDS_Shape half = sheet({{-40, 0},
                                     {40, 0},
                                     {40, 30},
                                     {t / 2, 30},
                                     {t / 2, 15},
                                     {-t / 2, 15},
                                     {-t / 2, 30},
                                     {-40, 30}},
                                    t);
    assemblies.emplace_back(
        "cross",
        model_of({placed(half, frame({0, t / 2, 0}, Vector3::UnitX(), Vector3::UnitZ()), true),
                  placed(half, frame({t / 2, 0, 30}, Vector3::UnitY(), -Vector3::UnitZ()), true)}));
    assemblies.emplace_back("demo", demo());
    int runs = 0;
    for (const auto& [name, model] : assemblies)
        for (const double kerf : {0.0, 0.15, 0.8})
            for (const double fit : {0.1, -0.06})
                for (const FitOn fit_on : {FitOn::slot, FitOn::both, FitOn::tab}) {
                    // The whole of the demo once is enough.
                    if (name == "demo" && (kerf != 0.15 || fit < 0.0)) continue;
                    CAPTURE(name);
                    CAPTURE(kerf);
                    CAPTURE(fit);
                    CAPTURE(static_cast<int>(fit_on));
                    const Check check = cut_and_measure(model, kerf, fit, fit_on);
                    CHECK(check.gaps >= 3);
                    CHECK(check.worst < 1e-9);
                    CHECK((check.unmoved > 0 || name.starts_with("ring")));
                    ++runs;
                }
    CHECK(runs == 10 * 18 + 3);
}

TEST_CASE("an allowance without room: an error that names the part, and the place") {
    const auto set = [](const std::vector<Point2>& hole) {
        const auto contour = [](const std::vector<Point2>& corners) {
            std::vector<Curve> curves;
            for (std::size_t i = 0; i < corners.size(); ++i)
                curves.push_back(Line{corners[i], corners[(i + 1) % corners.size()]});
            return Contour(std::move(curves));
        };
        return ProfileSet({Profile(contour(rectangle(0, 0, 60, 40)), {contour(hole)})}, {},
                          Datum::xy(), 0.01, "lid");
    };
    const auto message = [](const ProfileSet& outline, const Allowance& allowance) {
        try {
            as_cut(outline, allowance);
        } catch (const GeometryError& error) {
            CHECK(error.kind() == ErrorKind::no_room_for_allowance);
            return std::string(error.what());
        }
        return std::string("no error");
    };
    const auto has = [](const std::string& text, const std::string& part) {
        CAPTURE(part);
        CAPTURE(text);
        CHECK(text.find(part) != std::string::npos);
    };
    Allowance cut;
    cut.kerf = 2.0;
    const std::string gone = message(set(rectangle(10, 10, 30, 11.5)), cut);
    has(gone, "\"lid\": ");
    has(gone, "1.5 mm wide, narrower than the cut of 2 mm");
    // A slot with a neck: wide, narrow, wide.
    const std::string split = message(set({{5, 5},
                                           {15, 5},
                                           {15, 9},
                                           {25, 9},
                                           {25, 5},
                                           {35, 5},
                                           {35, 15},
                                           {25, 15},
                                           {25, 10},
                                           {15, 10},
                                           {15, 15},
                                           {5, 15}}),
                                      cut);
    has(split, "narrower than the cut of 2 mm");
    cut.kerf = 1.4;
    CHECK(message(set(rectangle(10, 10, 30, 11.5)), cut) == "no error");

    // A fit on both flanks of a tab of 4 mm.
    const std::vector<Point2> tabbed{{0, 0},   {60, 0},  {60, 40}, {32, 40},
                                     {32, 46}, {28, 46}, {28, 40}, {0, 40}};
    std::vector<Curve> curves;
    for (std::size_t i = 0; i < tabbed.size(); ++i)
        curves.push_back(Line{tabbed[i], tabbed[(i + 1) % tabbed.size()]});
    const ProfileSet tab({Profile(Contour(curves))}, {}, Datum::xy(), 0.01, "tabbed");
    Allowance fit;
    fit.fit = 2.5;
    fit.fits = {{{0, 0, 3}, 2.5}, {{0, 0, 5}, 2.5}};
    has(message(tab, fit), "\"tabbed\": ");
    has(message(tab, fit), "fit");
    fit.fit = 1.5;
    fit.fits = {{{0, 0, 3}, 1.5}, {{0, 0, 5}, 1.5}};
    CHECK(message(tab, fit) == "no error");
    // A press fit that closes a slot.
    fit.fit = -1.0;
    fit.fits = inner_fits(set(rectangle(10, 10, 30, 11.5)), -1.0);
    has(message(set(rectangle(10, 10, 30, 11.5)), fit), "\"lid\": ");

    for (const double kerf : std::vector<double>{-0.1, std::nan(""), INFINITY}) {
        Allowance bad;
        bad.kerf = kerf;
        CHECK_THROWS_AS(as_cut(tab, bad), GeometryError);
    }
    Allowance bad;
    bad.fits = {{{0, 0, 8}, 0.1}};
    CHECK_THROWS_AS(as_cut(tab, bad), GeometryError);
    bad.fits = {{{0, 1, 0}, 0.1}};
    CHECK_THROWS_AS(as_cut(tab, bad), GeometryError);
    bad.fits = {{{0, 0, 1}, 0.1}, {{0, 0, 1}, 0.2}};
    CHECK_THROWS_AS(as_cut(tab, bad), GeometryError);
    bad.fits = {};
    bad.kerf = 3.0;
    bad.relief = 3.0;
    CHECK_THROWS_AS(as_cut(tab, bad), GeometryError);
    CHECK_THROWS_AS(inner_fits(tab, 0.1, FitOn::tab), GeometryError);
    // Nothing to do: the outline itself.
    CHECK(as_cut(tab, {}).digest() == tab.digest());
    CHECK(as_cut(tab, {}).notes().empty());
}

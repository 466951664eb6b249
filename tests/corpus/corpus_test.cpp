/// The judge of the long runs sees outlines that are wrong, and lets right ones pass; a source that
/// crashes or hangs costs one step.

#include <doctest/doctest.h>

#include <BRepBuilderAPI_Transform.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRep_Builder.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <cmath>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <gp_Trsf.hxx>

#include "child.hpp"
#include "flatten/bodies.hpp"
#include "judge.hpp"
#include "odd_bodies.hpp"
#include "planform/occt.hpp"
#include "planform/side_up.hpp"
#include "processor_time.hpp"
#include "referee.hpp"
#include "results.hpp"

using namespace corpus;
using namespace planform;

namespace {

std::vector<Solid> turned_plate() {
    gp_Trsf turn;
    turn.SetRotation(gp_Ax1(gp_Pnt(3, 1, 2), gp_Dir(1, 2, 3)), 0.7);
    return bodies::solids_of(BRepBuilderAPI_Transform(bodies::drilled_plate(), turn, true).Shape());
}

/// The first profile changed, the others left out.
ProfileSet with(const ProfileSet& set, Contour outer, std::vector<Contour> holes) {
    return ProfileSet({Profile(std::move(outer), std::move(holes))}, {}, set.datum());
}

Contour circle(const Point2& center, double radius) {
    return Contour({Arc{center, radius, 0.0, 2.0 * pi}});
}

Transform2 shift(double x, double y) { return Transform2(Eigen::Translation2d(x, y)); }

/// The same set, wrong in many ways; one is to be off by `moved` mm.
std::vector<ProfileSet> spoilt(const ProfileSet& set, double moved) {
    const Profile& first = set.profiles().front();
    std::vector<Contour> holes = first.holes();
    std::vector<ProfileSet> wrong{set.transformed(shift(moved, 0.0)),
                                  set.transformed(shift(0.0, -moved)), ProfileSet(),
                                  with(set, first.outer(), {})};
    if (!holes.empty()) {
        holes.pop_back();
        wrong.push_back(with(set, first.outer(), holes));
    }
    // A hole that is not there, in the material beside the outline's start.
    std::vector<Contour> more = first.holes();
    const Box2 box = first.bounds();
    more.push_back(circle(box.center() + 0.31 * box.sizes(), 0.4));
    wrong.push_back(with(set, first.outer(), more));
    // Material that is not there.
    std::vector<Profile> profiles = set.profiles();
    profiles.emplace_back(circle(box.max() + Vector2(3.0, 3.0), 0.5));
    wrong.emplace_back(profiles, std::vector<Mark>{}, set.datum());
    return wrong;
}

}  // namespace

TEST_CASE("the judge lets right silhouettes pass and sees wrong ones") {
    const std::vector<Solid> plate = turned_plate();
    const std::vector<Mesh> meshes = meshes_of(plate, Limits().deflection());
    REQUIRE(meshes.size() == 1);
    REQUIRE(meshes[0].bare_faces == 0);
    for (const Datum& datum : {auto_datum(plate[0]), Datum::xy()}) {
        const ProjectedMesh mesh = projected(meshes[0], datum);
        // Most edges lie between triangles that look the same way.
        CHECK(mesh.rims.size() < meshes[0].edges.size());
        const ProfileSet set = silhouette(plate, datum);
        const Verdict right = judge_silhouette(set, mesh, {});
        CHECK(right.places > 1000);
        CHECK(right.disagreements.empty());
        if (set.profiles().front().holes().empty()) continue;
        for (const ProfileSet& wrong : spoilt(set, 0.05)) {
            const Verdict verdict = judge_silhouette(wrong, mesh, {});
            CHECK_FALSE(verdict.disagreements.empty());
            const Ruling ruling = ruled(verdict, [&](const Point2& at) {
                return ray_meets(plate, datum, at, Limits().apart);
            });
            CHECK_FALSE(ruling.outline_wrong.empty());
            CHECK(ruling.mesh_wrong == 0);
            CHECK(ruling.undecided == 0);
        }
    }
}

TEST_CASE("the judge lets right sections pass and sees wrong ones") {
    const std::vector<Solid> plate = turned_plate();
    const std::vector<Mesh> meshes = meshes_of(plate, Limits().deflection());
    const Datum datum = auto_datum(plate[0]).moved(1.3);
    const std::vector<Segment> segments = cut(meshes[0], datum);
    const ProfileSet set = section(plate, datum);
    const Verdict right = judge_section(set, segments, {});
    CHECK(right.places > 1000);
    CHECK(right.disagreements.empty());
    // Places have to be clear of both, so that it takes twice the limit to be seen.
    for (const ProfileSet& wrong : spoilt(set, 0.08)) {
        const Verdict verdict = judge_section(wrong, segments, {});
        CHECK_FALSE(verdict.disagreements.empty());
        const Ruling ruling = ruled(verdict, [&](const Point2& at) {
            return lies_in(plate[0], datum, at, Limits().apart);
        });
        CHECK_FALSE(ruling.outline_wrong.empty());
    }
}

TEST_CASE("a node at the height of a corner of the outline lies in it") {
    // Strips of the region end at such heights.
    std::vector<Segment> square{{Point2(0, 0), Point2(1, 0)},     {Point2(1, 0), Point2(1, 0.8)},
                                {Point2(1, 0.8), Point2(1, 1.6)}, {Point2(1, 1.6), Point2(0, 1.6)},
                                {Point2(0, 1.6), Point2(0, 0.7)}, {Point2(0, 0.7), Point2(0, 0)}};
    const Region region(square);
    for (int k = 0; k < 160; ++k) CHECK(region.holds({0.5, 0.01 * k}));
    CHECK_FALSE(region.holds({0.5, 1.6001}));
    CHECK_FALSE(region.holds({1.5, 0.8}));
}

TEST_CASE("a crash and a hang cost one step each, and the next process goes on behind them") {
    Source source;
    source.name = "trouble";
    source.solids = [] { return bodies::solids_of(bodies::drilled_plate()); };
    const auto steps = [](const std::vector<Solid>&) {
        const auto fine = [] { return Outcome(); };
        const auto crash = []() -> Outcome { std::abort(); };
        const auto hang = []() -> Outcome {
            arm_timer(0.05);
            const ProcessorTime time;
            while (time.seconds() < 1e9) {
            }
            return {};
        };
        const auto bad_judge = [](Outcome&) { std::abort(); };
        return std::vector<Step>{{"one", fine},  {"two", crash}, {"three", fine},
                                 {"four", hang}, {"five", fine}, {"six", fine, bad_judge},
                                 {"seven", fine}};
    };
    const SourceResult result = work_through(source, steps);
    CHECK(result.solids == 1);
    CHECK(result.outlines == 5);
    REQUIRE(result.problems.size() == 3);
    CHECK(result.problems[0].kind == "crash");
    CHECK(result.problems[0].step == "two");
    CHECK(result.problems[1].kind == "hang");
    CHECK(result.problems[1].step == "four");
    CHECK(result.problems[2].kind == "no judge");
    CHECK(result.problems[2].step == "six");
}

TEST_CASE("a solid that is changed on the way is told") {
    Source source;
    source.name = "a box";
    source.solids = [] {
        return planform::from_shape(BRepPrimAPI_MakeBox(3, 4, 5).Shape()).solids();
    };
    const auto steps = [](bool changes) {
        return [changes](const std::vector<Solid>& solids) {
            const auto run = [solids, changes] {
                // Wider than it was: as booleans leave the edges that they are given.
                TopExp_Explorer edge(planform::shape_of(solids.front()), TopAbs_EDGE);
                if (changes) BRep_Builder().UpdateEdge(TopoDS::Edge(edge.Current()), 0.25);
                return Outcome{};
            };
            return std::vector<Step>{{"one", run}, {"two", run}};
        };
    };
    CHECK(work_through(source, steps(false)).problems.empty());
    const SourceResult result = work_through(source, steps(true));
    CHECK(result.outlines == 2);
    REQUIRE(result.problems.size() == 1);
    CHECK(result.problems[0].kind == "solid changed");
    CHECK(result.problems[0].text.find("solid 1") == 0);
}

TEST_CASE("results are read back, but for a line that was cut off") {
    const std::filesystem::path file =
        std::filesystem::temp_directory_path() / "planform_corpus_results.jsonl";
    std::filesystem::remove(file);
    SourceResult result;
    result.name = "a";
    result.outlines = 4;
    result.counts["text"] = 3;
    result.problems.push_back({"refused", "solid 1 on xy", "face 23: does not close"});
    append(file, result);
    result.name = "b";
    append(file, result);
    std::ofstream(file, std::ios::app) << R"({"name": "c", "sol)";
    for (int round = 0; round < 2; ++round) {
        const std::vector<SourceResult> read = read_results(file);
        REQUIRE(read.size() == 2);
        CHECK(read[1].name == "b");
        CHECK(read[1].counts.at("text") == 3);
        CHECK(read[1].problems[0].step == "solid 1 on xy");
    }
    const std::string text = summary(read_results(file), 7, "trial");
    CHECK(text.find("| sources looked at, of 7 | 2 |") != std::string::npos);
    CHECK(text.find("- 2 x refused: face N: does not close") != std::string::npos);
    std::filesystem::remove(file);
}

TEST_CASE("a face that the kernel meshes by the million is followed on larger triangles") {
    // A revolved spline whose folds don't join; the mesh of its face once had no end in minutes.
    const odd_bodies::Body body = odd_bodies::make(907);
    REQUIRE(body.kind == "revolution");
    const ProfileSet set = silhouette(bodies::solids_of(body.shape), body.datum);
    REQUIRE(set.notes().size() == 1);
    CHECK(set.notes().front().find("followed from triangle to triangle") != std::string::npos);
    // From behind other triangles lead to it.
    const Datum behind(body.datum.origin(), -body.datum.normal(), body.datum.x());
    const double area = silhouette(bodies::solids_of(body.shape), behind).area();
    CHECK(std::abs(area - set.area()) < 0.01 * set.length());
}

/// What a solid keeps from one view to the next changes no outline.

#include <doctest/doctest.h>

#include <array>
#include <string>
#include <thread>
#include <vector>

#include "flatten/bodies.hpp"
#include "flatten/silhouette/random_solids.hpp"
#include "planform/occt.hpp"
#include "planform/write.hpp"
#include "random_count.hpp"

using namespace planform;

namespace {

/// Everything about the outline, or why there is none.
std::string seen(const std::vector<Solid>& solids, const Datum& datum) {
    try {
        const ProfileSet set = silhouette(solids, datum);
        std::string text = json_text(set);
        for (const std::string& note : set.notes()) text += note;
        return text;
    } catch (const Error& error) {
        return error.what();
    }
}

std::string cut(const std::vector<Solid>& solids, const Datum& datum) {
    try {
        return json_text(section(solids, datum, 0.4));
    } catch (const Error& error) {
        return error.what();
    }
}

const std::array<Datum, 3> views{Datum::xy(), Datum({0, 0, 0}, {0.3, 0.2, 0.9}), Datum::xz()};

}  // namespace

TEST_CASE("a later view is that of a solid that nobody has seen") {
    const int count = random_count(40, 400);
    int outlines = 0;
    for (int seed = 0; seed < count; ++seed) {
        CAPTURE(seed);
        const random_solids::Case made =
            random_solids::make(static_cast<std::uint64_t>(3000 + seed));
        if (made.shape.IsNull()) continue;
        const std::vector<Solid> asked = bodies::solids_of(made.shape);
        seen(asked, made.datum);
        for (const Datum& view : views) {
            const std::vector<Solid> fresh = bodies::solids_of(made.shape);
            CHECK(seen(asked, view) == seen(fresh, view));
            CHECK(cut(asked, view) == cut(bodies::solids_of(made.shape), view));
            ++outlines;
        }
    }
    CHECK(outlines >= 2 * count);
}

TEST_CASE("instances share what was seen, and many threads see the same") {
    // A ring with a bore across: full turns, seams and boundaries that run over them.
    gp_Trsf aside;
    aside.SetTranslation(gp_Vec(60, 5, 2));
    const TopoDS_Shape ring = BRepPrimAPI_MakeTorus(10.0, 3.0).Shape();
    const TopoDS_Shape bored =
        BRepAlgoAPI_Cut(
            ring, BRepPrimAPI_MakeCylinder(gp_Ax2(gp_Pnt(0, 10, -9), gp::DZ()), 1.5, 18.0).Shape())
            .Shape();
    TopoDS_Compound pair;
    BRep_Builder().MakeCompound(pair);
    BRep_Builder().Add(pair, bored);
    BRep_Builder().Add(pair, bored.Moved(aside));
    const std::vector<Solid> instances = bodies::solids_of(pair);
    REQUIRE(instances.size() == 2);
    std::vector<std::string> expected;
    for (const Datum& view : views) expected.push_back(seen(bodies::solids_of(pair), view));
    std::vector<std::string> answers(12);
    std::vector<std::thread> threads;
    for (std::size_t i = 0; i < answers.size(); ++i)
        threads.emplace_back([&, i] { answers[i] = seen(instances, views[i % views.size()]); });
    for (std::thread& thread : threads) thread.join();
    for (std::size_t i = 0; i < answers.size(); ++i)
        CHECK(answers[i] == expected[i % views.size()]);
}

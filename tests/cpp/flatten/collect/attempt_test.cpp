/// What stood in the way of a first way is kept, and said where the second fails, too.

#include "flatten/collect/attempt.hpp"

#include <doctest/doctest.h>

#include "flatten/proof/section_proof.hpp"

using namespace planform;
using flatten::attempt;
using flatten::Setback;

namespace {

[[noreturn]] void fail(ErrorKind kind, const char* text) { throw GeometryError(kind, text); }

}  // namespace

TEST_CASE("attempt: nothing stands in the way of what comes to its end") {
    int done = 0;
    CHECK(!attempt([&] { ++done; }));
    CHECK(done == 1);
}

TEST_CASE("attempt: a setback has kind and cause, and is raised as it was") {
    const auto setback = attempt([] { throw flatten::SectionBreach("an edge ends beside", 2, 7); });
    REQUIRE(setback);
    CHECK(setback->kind() == ErrorKind::face_not_flattened);
    CHECK(setback->cause() == "an edge ends beside");
    try {
        setback->raise();
    } catch (const flatten::SectionBreach& breach) {
        CHECK(breach.solid() == 2);
        CHECK(breach.face() == 7);
        return;
    }
    FAIL("raised as something else");
}

TEST_CASE("attempt: where another way fails, both causes are said") {
    const auto setback = attempt([] { fail(ErrorKind::face_not_flattened, "no end"); });
    REQUIRE(setback);
    CHECK(setback->otherwise([] { return 5; }) == 5);
    const auto second = attempt(
        [&] { setback->otherwise([]() -> int { fail(ErrorKind::law_broken, "no mesh"); }); });
    REQUIRE(second);
    CHECK(second->kind() == ErrorKind::law_broken);
    CHECK(second->cause() == "no mesh (tried before: no end)");
}

TEST_CASE("attempt: what is no error about geometry passes") {
    CHECK_THROWS_AS(attempt([] { throw LoadError(ErrorKind::file_damaged, "x"); }), LoadError);
}

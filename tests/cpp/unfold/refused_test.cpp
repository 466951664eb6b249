/// Bodies that no flat sheet bends to, and why each is refused.

#include <doctest/doctest.h>

#include "unfold/refused_bodies.hpp"
#include "unfold/sheets.hpp"

using namespace planform;

namespace {

/// All are refused for their reason, in words, and with a place where there is one.
void check(const std::vector<refused::Body>& bodies) {
    for (const refused::Body& body : bodies) {
        CAPTURE(body.name);
        const UnfoldRefusal refusal = sheets::refused(body.shape);
        CHECK_MESSAGE(refusal.reason == body.reason, word_for(refusal.reason), ": ", refusal.text);
        CHECK(refusal.text.size() > 20);
        if (body.reason != NotUnfolded::no_sheet && body.reason != NotUnfolded::overlaps)
            CHECK(!refusal.faces.empty());
    }
}

}  // namespace

TEST_CASE("flat sheets have no bend") { check(refused::flat_sheets()); }

TEST_CASE("blocks and turned parts are no sheets") { check(refused::blocks_and_turned_parts()); }

TEST_CASE("castings are no sheets or not of one thickness") { check(refused::castings()); }

TEST_CASE("tubes and boxes go round and close") { check(refused::tubes_and_boxes()); }

TEST_CASE("drawn and twisted sheets are curved two ways") {
    check(refused::drawn_and_twisted_sheets());
}

TEST_CASE("brackets that are thicker or thinner somewhere") {
    check(refused::brackets_of_two_thicknesses());
}

TEST_CASE("collars, louvres, beads and bridges are formed within a wall") {
    check(refused::formed_walls());
}

TEST_CASE("corners without room for a bend of the radius that is asked for") {
    UnfoldOptions options;
    options.rule.sharp_radius = 2.0;
    for (const refused::Body& body : refused::corners_without_room()) {
        CAPTURE(body.name);
        const Unfolding unfolding = try_unfold(sheets::solid_of(body.shape), options);
        REQUIRE(!unfolding.blank);
        CHECK_MESSAGE(unfolding.refusal.reason == body.reason, unfolding.refusal.text);
        // As it is drawn there is room.
        const Unfolding sharp = try_unfold(sheets::solid_of(body.shape));
        REQUIRE(sharp.blank);
        for (const Bend& bend : sharp.blank->bends) CHECK(bend.inside_radius == 0.0);
    }
}

TEST_CASE("blanks that would lie on themselves") {
    const std::vector<refused::Body> bodies = refused::overlapping();
    check(bodies);
    for (const refused::Body& body : bodies) {
        const UnfoldRefusal refusal = sheets::refused(body.shape);
        REQUIRE(refusal.overlap.has_value());
        CHECK(refusal.overlap->area() > 1.0);
        CHECK(refusal.outline.has_value());
        CHECK(refusal.place.has_value());
    }
}

TEST_CASE("there are sixty of them") {
    std::size_t count = 0;
    for (const auto& bodies :
         {refused::flat_sheets(), refused::blocks_and_turned_parts(), refused::castings(),
          refused::tubes_and_boxes(), refused::drawn_and_twisted_sheets(),
          refused::brackets_of_two_thicknesses(), refused::formed_walls(),
          refused::corners_without_room(), refused::overlapping()})
        count += bodies.size();
    CHECK(count >= 60);
}

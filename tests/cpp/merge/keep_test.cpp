/// Bodies kept apart: raised and sunk text becomes marks, what overlaps in part is said.

#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "merge/sets.hpp"

using namespace sets;

namespace {

std::vector<std::string> mark_names(const ProfileSet& set) {
    std::vector<std::string> names;
    for (const Mark& mark : set.marks()) names.push_back(mark.name());
    return names;
}

}  // namespace

TEST_CASE("what lies on a plate becomes marks with its names, the plate stays as it is") {
    const ProfileSet plate = difference(box(0, 0, 100, 40, "plate"), disc({90, 20}, 4));
    std::vector<ProfileSet> bodies{ring({20, 20}, 10, 5, "0"), plate.with_name("plate"),
                                   box(40, 10, 4, 20, "1"), disc({60, 20}, 5, "dot")};
    const ProfileSet kept = kept_apart(bodies);
    CHECK(ProfileSet(kept.profiles()).digest() == plate.digest());
    CHECK(mark_names(kept) == std::vector<std::string>{"0", "0", "1", "dot"});
    CHECK(kept.notes().empty());
    CHECK(united(bodies).digest() == plate.digest());
}

TEST_CASE("what lies on a badge that lies on a plate is marked on the plate") {
    const ProfileSet kept = kept_apart(std::vector<ProfileSet>{
        disc({50, 20}, 2, "dot"), disc({50, 20}, 10, "badge"), box(0, 0, 100, 40, "plate")});
    REQUIRE(kept.profiles().size() == 1);
    CHECK(mark_names(kept) == std::vector<std::string>{"badge", "dot"});
}

TEST_CASE("what lies on several plates that touch is marked") {
    const ProfileSet kept = kept_apart(std::vector<ProfileSet>{
        box(0, 0, 50, 40, "left"), box(50, 0, 50, 40, "right"), disc({50, 20}, 10, "badge")});
    CHECK(kept.profiles().size() == 2);
    CHECK(mark_names(kept) == std::vector<std::string>{"badge"});
}

TEST_CASE("what overlaps in part stays whole and a note says so") {
    const ProfileSet kept = kept_apart(
        std::vector<ProfileSet>{box(0, 0, 50, 40, "plate"), disc({50, 20}, 10, "badge")});
    CHECK(kept.profiles().size() == 2);
    CHECK(kept.marks().empty());
    REQUIRE(kept.notes().size() == 1);
    CHECK(kept.notes()[0].find("\"badge\"") != std::string::npos);
}

TEST_CASE("what lies over a hole in part is no mark, what lies in a hole is an island") {
    const ProfileSet plate = ring({0, 0}, 30, 10, "plate");
    const ProfileSet kept = kept_apart(std::vector<ProfileSet>{plate, disc({0, 0}, 8, "loose"),
                                                               disc({10, 0}, 1.5, "over the rim")});
    CHECK(kept.profiles().size() == 3);
    REQUIRE(kept.islands().size() == 1);
    CHECK(kept.profiles()[static_cast<std::size_t>(kept.islands()[0])].name() == "loose");
    CHECK(kept.notes().size() == 1);
}

TEST_CASE("marks of the sets come along") {
    const ProfileSet marked({Profile(outlines::rectangle(0, 0, 9, 9))},
                            {{outlines::circle({4, 4}, 1), "old"}}, Datum::xy(), 0.01, "plate");
    const ProfileSet kept = kept_apart(std::vector<ProfileSet>{marked, disc({7, 7}, 1, "new")});
    CHECK(mark_names(kept) == std::vector<std::string>{"old", "new"});
    CHECK(kept.profiles()[0].name() == "plate");
}

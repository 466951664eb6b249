/// The laws of sections: true sections pass, damaged ones don't.

#include "flatten/proof/section_proof.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "flatten/bodies.hpp"
#include "flatten/silhouette/random_solids.hpp"
#include "flatten/turned_bodies.hpp"

using namespace planform;
using solid::SectionSolid;

namespace {

struct Cut {
    std::vector<Solid> solids;
    std::vector<SectionSolid> ready;
    Datum datum;
    ProfileSet set;

    Cut(const TopoDS_Shape& shape, const Datum& plane)
        : solids(bodies::solids_of(shape)), datum(plane), set(section(solids, plane)) {
        for (const Solid& solid : solids)
            ready.emplace_back(solid::build_shape_graph(shape_of(solid), plane));
    }
    bool is_caught(const std::vector<Profile>& profiles) const {
        const ProfileSet damaged(profiles, {}, datum, set.tolerance(), {}, {}, Validate::no);
        try {
            flatten::prove_section(solids, ready, datum, 0.0, damaged);
            return false;
        } catch (const flatten::SectionBreach& breach) {
            CHECK(std::string(breach.what()).find("breaks the law") != std::string::npos);
            CHECK(std::string(breach.what()).find("solid \"") != std::string::npos);
            return true;
        }
    }
};

std::vector<Cut> cuts() {
    std::vector<Cut> result;
    for (int seed = 0; seed < 12; ++seed) {
        const auto body = turned_bodies::turned(static_cast<std::uint64_t>(seed));
        const Vector3 across = body.axis.cross(body.seam);
        result.emplace_back(body.shape, Datum(body.foot, across + 0.37 * body.seam));
        const auto sweep = turned_bodies::swept(static_cast<std::uint64_t>(seed));
        result.emplace_back(sweep.shape, Datum(sweep.origin, sweep.normal));
    }
    for (std::uint64_t seed = 7000; seed < 7016; ++seed) {
        const random_solids::Case c = random_solids::make(seed);
        if (c.shape.IsNull()) continue;
        const SectionStack stack(bodies::solids_of(c.shape), c.datum);
        const Interval extent = stack.extent();
        result.emplace_back(c.shape,
                            c.datum.moved(extent.first + 0.43 * (extent.last - extent.first)));
    }
    return result;
}

}  // namespace

TEST_CASE("sections tell by which laws they were proven; damaged ones break one") {
    int whole = 0, proven = 0, dropped = 0, filled = 0, moved = 0;
    int missed_dropped = 0, missed_filled = 0, missed_moved = 0;
    for (const Cut& cut : cuts()) {
        if (cut.set.area() < 0.5) continue;
        ++whole;
        CHECK(!cut.is_caught(cut.set.profiles()));
        proven += !cut.set.proof().empty();
        CHECK(cut.set.proof().largest_deviation() <= 2.0 * cut.set.tolerance());
        std::vector<Profile> profiles;  // without the places of their parents, which change
        for (const Profile& profile : cut.set.profiles())
            profiles.emplace_back(profile.outer(), profile.holes());
        for (std::size_t i = 0; i < profiles.size(); ++i) {
            if (profiles[i].area() < 0.5) continue;
            std::vector<Profile> others = profiles;
            others.erase(others.begin() + static_cast<std::ptrdiff_t>(i));
            ++dropped;
            missed_dropped += !cut.is_caught(others);
            for (std::size_t h = 0; h < profiles[i].holes().size(); ++h) {
                std::vector<Contour> holes = profiles[i].holes();
                if (std::abs(holes[h].area()) < 0.5) continue;
                holes.erase(holes.begin() + static_cast<std::ptrdiff_t>(h));
                others = profiles;
                others[i] = Profile(profiles[i].outer(), holes);
                ++filled;
                missed_filled += !cut.is_caught(others);
            }
            others = profiles;
            others[i] = profiles[i].transformed(Transform2(Eigen::Translation2d(0.5, 0.4)));
            ++moved;
            missed_moved += !cut.is_caught(others);
        }
    }
    MESSAGE(whole << " true sections, " << proven << " with witnesses; missed: " << missed_dropped
                  << " of " << dropped << " dropped profiles, " << missed_filled << " of " << filled
                  << " filled holes, " << missed_moved << " of " << moved << " moved profiles");
    CHECK(whole > 25);
    CHECK(dropped > 30);
    CHECK(filled > 3);
    // A plane that no edge crosses and few samples see may have no witness on a small contour.
    CHECK(20 * proven >= 19 * whole);
    CHECK(20 * missed_dropped <= dropped);
    CHECK(10 * missed_filled <= filled);
    CHECK(20 * missed_moved <= moved);
}

#include "contact/shares.hpp"

#include <algorithm>
#include <cstddef>

namespace planform::contact {

void Shares::add_pair(const WallKey& first, const WallKey& second, WallRole role) {
    Wall &a = walls_[first], &b = walls_[second];
    if (first != second) {
        a.meets.insert(second);
        b.meets.insert(first);
    }
    a.is_slot |= role == WallRole::slot;
    b.is_tab |= role == WallRole::slot;
    a.is_tab |= role == WallRole::tab;
    b.is_slot |= role == WallRole::tab;
    // A wall that meets another piece of its own outline can't take more than its half.
    const bool undecided = role == WallRole::undecided || first == second;
    a.is_undecided |= undecided;
    b.is_undecided |= undecided;
}

/// From walls whose shares are known to those that they meet, and on.
void Shares::spread(const std::vector<WallKey>& from, std::map<WallKey, double>& shares,
                    std::set<WallKey>& strained) const {
    std::vector<WallKey> queue = from;
    for (std::size_t i = 0; i < queue.size(); ++i) {
        const double rest = 1.0 - shares.at(queue[i]);
        for (const WallKey& other : walls_.at(queue[i]).meets) {
            const auto [known, is_new] = shares.emplace(other, rest);
            if (is_new) queue.push_back(other);
            if (is_new || known->second == rest) continue;
            strained.insert(other);
            known->second = std::max(known->second, rest);
        }
    }
}

/// The wall and all that it meets, directly or through others.
std::vector<WallKey> Shares::connected(const WallKey& wall) const {
    std::vector<WallKey> found{wall};
    std::set<WallKey> seen{wall};
    for (std::size_t i = 0; i < found.size(); ++i)
        for (const WallKey& other : walls_.at(found[i]).meets)
            if (seen.insert(other).second) found.push_back(other);
    return found;
}

double Shares::share_of(const Wall& wall, FitOn fit_on, bool is_decided) const {
    if (fit_on == FitOn::both || !is_decided) return 0.5;
    return wall.is_slot == (fit_on == FitOn::slot) ? 1.0 : 0.0;
}

std::map<WallKey, double> Shares::resolve(FitOn fit_on, std::set<WallKey>& strained) const {
    std::map<WallKey, double> shares;
    std::vector<WallKey> alone;
    for (const auto& [key, wall] : walls_)
        if (wall.alone) {
            shares[key] = 1.0;
            alone.push_back(key);
        }
    spread(alone, shares, strained);
    for (const auto& [key, wall] : walls_) {
        if (shares.contains(key)) continue;
        const std::vector<WallKey> together = connected(key);
        const bool is_decided =
            std::all_of(together.begin(), together.end(), [this](const WallKey& other) {
                const Wall& w = walls_.at(other);
                return !w.is_undecided && w.is_slot != w.is_tab;
            });
        for (const WallKey& other : together)
            shares[other] = share_of(walls_.at(other), fit_on, is_decided);
    }
    return shares;
}

}  // namespace planform::contact

#pragma once

/// Shares the fit out among walls that meet.

#include <map>
#include <set>
#include <utility>
#include <vector>

#include "planform/contact.hpp"

namespace planform::contact {

/// A run of curves: the outline, and the run in it.
using WallKey = std::pair<int, int>;

enum class WallRole { undecided, slot, tab };

class Shares {
  public:
    /// A wall that meets what is not cut.
    void add_alone(const WallKey& wall) { walls_[wall].alone = true; }
    /// Two walls that meet; the role is that of the first.
    void add_pair(const WallKey& first, const WallKey& second, WallRole role);

    /// The share of each wall. `strained` gets those that would need two.
    std::map<WallKey, double> resolve(FitOn fit_on, std::set<WallKey>& strained) const;

  private:
    struct Wall {
        bool alone = false;
        std::set<WallKey> meets;
        bool is_slot = false, is_tab = false, is_undecided = false;
    };

    void spread(const std::vector<WallKey>& from, std::map<WallKey, double>& shares,
                std::set<WallKey>& strained) const;
    std::vector<WallKey> connected(const WallKey& wall) const;
    double share_of(const Wall& wall, FitOn fit_on, bool is_decided) const;

    std::map<WallKey, Wall> walls_;
};

}  // namespace planform::contact

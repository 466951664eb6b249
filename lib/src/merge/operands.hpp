#pragma once

/// Profiles as the two operands of one arrangement, and the way back.

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "arrange/arrange.hpp"
#include "planform/profile.hpp"

namespace planform::merge {

using Inside = std::function<bool(const arrange::Winding&)>;

bool in_first(const arrange::Winding& winding);
bool in_either(const arrange::Winding& winding);
bool in_both(const arrange::Winding& winding);
bool in_first_only(const arrange::Winding& winding);
bool in_one_only(const arrange::Winding& winding);

/// Contours of profiles, collected for one arrangement. Refers to the names of the profiles, which
/// must live as long.
class Operands {
  public:
    /// Adds a profile to operand 0 or 1.
    void add(const Profile& profile, int operand);
    /// Adds the inside of a contour, whatever its direction, under a name.
    void add_filled(const Contour& contour, int operand, std::string_view name = {});
    /// Takes the inside of a contour, whatever its direction, out of an operand.
    void add_hole(const Contour& contour, int operand, std::string_view name = {});

    bool empty() const { return input_.curves.empty(); }
    /// The profiles whose material is where `inside` says so. Held against the law of winding: if
    /// they break it, the curves are arranged more finely, then it is an error.
    std::vector<Profile> arranged(const Inside& inside, double tolerance) const;

  private:
    struct Source {
        int operand;
        std::string_view name;
        Provenance provenance;
    };

    void add_contour(const Contour& contour, int weight, int operand, std::string_view name);
    std::string name_of(const arrange::Loop& loop) const;
    const Source& source(int tag) const { return sources_[static_cast<std::size_t>(tag)]; }

    arrange::Input input_;
    std::vector<Source> sources_;  ///< by tag: one a curve
};

}  // namespace planform::merge

#include <cmath>

#include "planform/error.hpp"
#include "planform/profile.hpp"

namespace planform {
namespace {

void require_tolerance(double tolerance) {
    if (std::isfinite(tolerance) && tolerance > 0.0) return;
    throw GeometryError(ErrorKind::invalid_argument,
                        "profile set: the tolerance is not a positive finite number of mm");
}

/// Each parent is another profile of the set, and no profile lies within itself, however many are
/// between.
void require_parents(const std::vector<Profile>& profiles) {
    const int count = static_cast<int>(profiles.size());
    for (const Profile& profile : profiles) {
        int steps = 0;
        for (int parent = profile.parent(); parent >= 0;
             parent = profiles[static_cast<std::size_t>(parent)].parent()) {
            if (parent >= count || ++steps >= count) {
                throw GeometryError(ErrorKind::invalid_argument,
                                    "profile set: a parent is not another profile of the set");
            }
        }
    }
}

}  // namespace

ProfileSet::ProfileSet(std::vector<Profile> profiles, std::vector<Mark> marks, Datum datum,
                       double tolerance, std::string name, std::vector<std::string> notes,
                       Validate validate)
    : profiles_(std::move(profiles)),
      marks_(std::move(marks)),
      datum_(std::move(datum)),
      tolerance_(tolerance),
      name_(std::move(name)),
      notes_(std::move(notes)) {
    require_tolerance(tolerance_);
    require_parents(profiles_);
    if (validate == Validate::yes && tolerance_ != default_tolerance)
        fit_tolerance(tolerance_, empty() ? 0.0 : bounds().diagonal().norm());
}

std::vector<int> ProfileSet::islands() const {
    std::vector<int> result;
    for (std::size_t i = 0; i < profiles_.size(); ++i)
        if (profiles_[i].is_island()) result.push_back(static_cast<int>(i));
    return result;
}

double ProfileSet::area() const {
    double sum = 0.0;
    for (const Profile& profile : profiles_) sum += profile.area();
    return sum;
}

double ProfileSet::length() const {
    double sum = 0.0;
    for (const Profile& profile : profiles_) sum += profile.length();
    return sum;
}

Box2 ProfileSet::bounds() const {
    Box2 box;
    for (const Profile& profile : profiles_) box.extend(profile.bounds());
    for (const Mark& mark : marks_) box.extend(mark.bounds());
    return box;
}

ProfileSet ProfileSet::transformed(const Transform2& transform) const {
    std::vector<Profile> profiles;
    profiles.reserve(profiles_.size());
    for (const Profile& profile : profiles_) profiles.push_back(profile.transformed(transform));
    std::vector<Mark> marks;
    marks.reserve(marks_.size());
    for (const Mark& mark : marks_) marks.push_back(mark.transformed(transform));
    return ProfileSet(std::move(profiles), std::move(marks), datum_, tolerance_, name_, notes_,
                      Validate::no)
        .with_proof(proof_)
        .with_data(data_);
}

ProfileSet ProfileSet::with_name(std::string name) const {
    ProfileSet result = *this;
    result.name_ = std::move(name);
    return result;
}

ProfileSet ProfileSet::with_marks(std::vector<Mark> marks) const {
    ProfileSet result = *this;
    result.marks_ = std::move(marks);
    return result;
}

ProfileSet ProfileSet::with_notes(const std::vector<std::string>& notes) const {
    ProfileSet result = *this;
    result.notes_.insert(result.notes_.end(), notes.begin(), notes.end());
    return result;
}

ProfileSet ProfileSet::with_datum(const Datum& datum) const {
    ProfileSet result = *this;
    result.datum_ = datum;
    return result;
}

ProfileSet ProfileSet::with_proof(Proof proof) const {
    ProfileSet result = *this;
    result.proof_ = std::move(proof);
    return result;
}

ProfileSet ProfileSet::with_data(std::string data) const {
    ProfileSet result = *this;
    result.data_ = std::move(data);
    return result;
}

ProfileSet ProfileSet::with_profiles(std::vector<Profile> profiles, Validate validate) const {
    return ProfileSet(std::move(profiles), marks_, datum_, tolerance_, name_, notes_, validate)
        .with_data(data_);
}

}  // namespace planform

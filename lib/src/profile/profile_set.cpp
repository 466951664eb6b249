#include "planform/profile.hpp"

namespace planform {

ProfileSet::ProfileSet(std::vector<Profile> profiles, std::vector<Mark> marks, Datum datum,
                       double tolerance, std::string name, std::vector<std::string> notes)
    : profiles_(std::move(profiles)),
      marks_(std::move(marks)),
      datum_(std::move(datum)),
      tolerance_(tolerance),
      name_(std::move(name)),
      notes_(std::move(notes)) {}

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
    for (const Mark& mark : marks_) box.extend(mark.contour.bounds());
    return box;
}

ProfileSet ProfileSet::transformed(const Transform2& transform) const {
    std::vector<Profile> profiles;
    profiles.reserve(profiles_.size());
    for (const Profile& profile : profiles_) profiles.push_back(profile.transformed(transform));
    std::vector<Mark> marks;
    marks.reserve(marks_.size());
    for (const Mark& mark : marks_)
        marks.push_back({mark.contour.transformed(transform), mark.name});
    return ProfileSet(std::move(profiles), std::move(marks), datum_, tolerance_, name_, notes_);
}

ProfileSet ProfileSet::with_name(std::string name) const {
    ProfileSet result = *this;
    result.name_ = std::move(name);
    return result;
}

}  // namespace planform

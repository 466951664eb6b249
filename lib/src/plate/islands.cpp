#include "plate/islands.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "model/measure/planar_face.hpp"
#include "planform/boolean.hpp"
#include "planform/occt.hpp"

namespace planform::plate {

namespace {

/// An island lies in the sheet's faces within this, mm.
constexpr double same_height = 1e-6;
/// Outlines share no edge if their union is as long as both, within this share.
constexpr double same_length = 1e-9;

bool may_share_sheet(const Plate& plate, const Solid& host, const Solid& other) {
    if (host.color() != other.color() || host.layers() != other.layers()) return false;
    const Box3 box = model::box_in(plate.datum, shape_of(other));
    return std::abs(box.min().z()) <= same_height &&
           std::abs(box.max().z() - plate.thickness) <= same_height &&
           plate.outline.bounds().contains(Box2(box.min().head<2>(), box.max().head<2>())) &&
           straight_cut(other, plate.datum).is_straight();
}

/// The set with one name for all of its profiles.
ProfileSet named(const ProfileSet& set, const std::string& name) {
    std::vector<Profile> profiles;
    for (const Profile& profile : set.profiles())
        profiles.emplace_back(profile.outer(), profile.holes(), name, profile.parent(),
                              Validate::no);
    return ProfileSet(std::move(profiles), set.marks(), set.datum(), set.tolerance(), name,
                      set.notes(), Validate::no);
}

/// All profiles lie in holes of others, and none touches the plate: what is pressed in, such as a
/// bush, has no cut of its own.
bool lies_loose(const ProfileSet& plate, const ProfileSet& body) {
    const ProfileSet both = kept_apart(std::vector{named(plate, "plate"), named(body, "body")});
    std::size_t inside = 0;
    for (const Profile& profile : both.profiles())
        inside += profile.name() == "body" && profile.is_island() ? 1 : 0;
    if (inside != body.profiles().size()) return false;
    const double length = plate.length() + body.length();
    return std::abs(united(plate, body).length() - length) <= same_length * length;
}

/// Of straight bodies: two faces of volume / thickness each, the rest is walls. `alone` is the
/// plate's outline without them.
void measure_together(Verdict& verdict, const ProfileSet& alone, std::span<const Solid> islands) {
    Plate& plate = *verdict.plate;
    double made = plate.surface_share * verdict.surface;
    double walls = plate.wall_share * alone.length() * plate.thickness;
    for (const Solid& island : islands) {
        plate.volume += island.volume();
        made += island.surface_area();
        walls += island.surface_area() - 2.0 * island.volume() / plate.thickness;
        verdict.surface += island.surface_area();
    }
    const double explained = plate.outline.area() * plate.thickness;
    plate.volume_share = std::min(plate.volume, explained) / std::max(plate.volume, explained);
    plate.surface_share = made / verdict.surface;
    plate.wall_share = walls / (plate.outline.length() * plate.thickness);
}

}  // namespace

std::vector<std::size_t> take_islands(Verdict& verdict, const Solid& host,
                                      std::span<const Solid> others, const PlateOptions& options) {
    FlattenOptions flattening;
    const Plate& plate = *verdict.plate;
    std::vector<std::size_t> which;
    std::vector<Solid> islands;
    std::vector<ProfileSet> together{named(plate.outline, plate.name)};
    int flattened = 0;
    for (std::size_t i = 0; i < others.size(); ++i) {
        if (!may_share_sheet(plate, host, others[i])) continue;
        flattening.tolerance =
            limited_tolerance(options.tolerance, others[i].bounds().diagonal().norm());
        const ProfileSet outline = silhouette(others.subspan(i, 1), plate.datum, flattening);
        ++flattened;
        if (!lies_loose(plate.outline, outline)) continue;
        which.push_back(i);
        islands.push_back(others[i]);
        together.push_back(named(outline, others[i].name()));
    }
    if (islands.empty()) return which;
    const ProfileSet alone = plate.outline;
    verdict.plate->outline = kept_apart(together).with_name(plate.name);
    verdict.flattened += flattened;
    measure_together(verdict, alone, islands);
    return which;
}

}  // namespace planform::plate

#include "features/plate_view.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <utility>

#include "features/view_faces.hpp"

namespace planform::features {

bool Region::has(std::size_t face) const {
    return std::binary_search(faces.begin(), faces.end(), face);
}

void Region::add(const Region& other) {
    faces.insert(faces.end(), other.faces.begin(), other.faces.end());
    std::sort(faces.begin(), faces.end());
    faces.erase(std::unique(faces.begin(), faces.end()), faces.end());
    box.extend(other.box);
}

PlateView::PlateView(solid::SectionSolid solid)
    : solid_(std::move(solid)),
      flats_(solid::flat_faces(solid_)),
      caps_(solid::cap_levels(solid_, flats_)),
      faces_(view_faces(solid_, flats_, caps_)),
      junctions_(solid_) {
    Box3 box;
    for (const FaceView& face : faces_) box.extend(face.box);
    if (box.isEmpty()) return;
    top_ = caps_.top ? (caps_.top->low + caps_.top->high) / 2.0 : box.max().z();
    bottom_ = caps_.bottom ? (caps_.bottom->low + caps_.bottom->high) / 2.0 : box.min().z();
}

std::vector<Region> PlateView::regions(const TakesFace& takes, const Joins& joins) const {
    std::vector<std::size_t> root(faces_.size());
    std::iota(root.begin(), root.end(), std::size_t{0});
    const auto find = [&root](std::size_t i) {
        while (root[i] != i) i = root[i] = root[root[i]];
        return i;
    };
    std::vector<bool> taken;
    for (const FaceView& face : faces_) taken.push_back(takes(face));
    for (const Junction& junction : junctions_.all()) {
        if (!taken[junction.first] || !taken[junction.second] || !joins(junction)) continue;
        const std::size_t a = find(junction.first), b = find(junction.second);
        root[std::max(a, b)] = std::min(a, b);
    }
    std::map<std::size_t, std::vector<std::size_t>> sets;
    for (std::size_t i = 0; i < faces_.size(); ++i)
        if (taken[i]) sets[find(i)].push_back(i);
    std::vector<Region> result;
    for (auto& [first, faces] : sets) result.push_back(region_of(std::move(faces)));
    return result;
}

Region PlateView::region_of(std::vector<std::size_t> faces) const {
    Region region;
    std::sort(faces.begin(), faces.end());
    region.faces = std::move(faces);
    for (const std::size_t face : region.faces) region.box.extend(faces_[face].box);
    return region;
}

void PlateView::visit_rim(const Region& region,
                          const std::function<void(const Junction&, std::size_t)>& visit) const {
    for (const std::size_t face : region.faces)
        for (const std::size_t i : junctions_.of(face)) {
            const Junction& junction = junctions_.all()[i];
            if (const std::size_t other = junction.other(face); !region.has(other))
                visit(junction, other);
        }
}

}  // namespace planform::features

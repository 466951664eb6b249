#include <Standard_Failure.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <tuple>
#include <utility>

#include "contact/face_contact.hpp"
#include "contact/touch_face.hpp"
#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "model/kernel/kernel.hpp"
#include "planform/contact.hpp"
#include "planform/error.hpp"

namespace planform {
namespace {

using contact::TouchFace;

Box3 grown(const Box3& box, double by) {
    return {box.min() - Vector3::Constant(by), box.max() + Vector3::Constant(by)};
}

Box2 from_above(const Box3& box) {
    return {Point2(box.min().head<2>()), Point2(box.max().head<2>())};
}

/// Calls `visit(i, j)`, i < j, for pairs of boxes that overlap, touching counts.
template <typename Visit>
void for_each_near_pair(const std::vector<Box3>& boxes, Visit&& visit) {
    std::vector<Box2> shadows;
    for (const Box3& box : boxes) shadows.push_back(from_above(box));
    const grid::BoxGrid grid(shadows);
    const grid::BoxTree tree(grid(shadows));
    tree.for_each_pair([&](int a, int b) {
        const auto i = static_cast<std::size_t>(std::min(a, b));
        const auto j = static_cast<std::size_t>(std::max(a, b));
        if (boxes[i].intersects(boxes[j])) visit(i, j);
    });
}

class Search {
  public:
    Search(std::span<const Solid> solids, double within)
        : solids_(solids), within_(within), faces_(solids.size()) {}

    std::vector<Contact> run() {
        std::vector<Box3> boxes;
        for (const Solid& solid : solids_) boxes.push_back(grown(solid.bounds(), within_));
        std::vector<std::pair<std::size_t, std::size_t>> pairs;
        for_each_near_pair(boxes, [&](std::size_t i, std::size_t j) { pairs.emplace_back(i, j); });
        std::sort(pairs.begin(), pairs.end());
        for (const auto& [i, j] : pairs) {
            const std::string who =
                "solids \"" + solids_[i].name() + "\" and \"" + solids_[j].name() + "\": ";
            const std::string advice = "; repair them, or put the fit on all inner contours";
            try {
                compare(i, j, boxes[i].intersection(boxes[j]));
            } catch (const GeometryError& error) {
                throw GeometryError(error.kind(), who + error.what() + advice);
            } catch (const Standard_Failure& failure) {
                throw GeometryError(ErrorKind::kernel_failure,
                                    who + "the geometry kernel failed on faces that touch (" +
                                        model::describe_failure(failure) + ")" + advice);
            }
        }
        return std::move(found_);
    }

  private:
    const std::vector<TouchFace>& faces(std::size_t solid) {
        if (faces_[solid].empty()) faces_[solid] = contact::touch_faces(solids_[solid]);
        return faces_[solid];
    }

    /// Faces of the first solid against those of the second, in what their boxes have in common.
    void compare(std::size_t i, std::size_t j, const Box3& common) {
        std::vector<const TouchFace*> near;
        std::vector<Box3> boxes;
        const auto add = [&](const std::vector<TouchFace>& faces) {
            for (const TouchFace& face : faces)
                if (face.box().intersects(common)) {
                    near.push_back(&face);
                    boxes.push_back(grown(face.box(), within_));
                }
        };
        add(faces(i));
        const std::size_t of_first = near.size();
        add(faces(j));
        if (of_first == 0 || of_first == near.size()) return;
        std::vector<std::pair<std::size_t, std::size_t>> pairs;
        for_each_near_pair(boxes, [&](std::size_t a, std::size_t b) {
            if (a < of_first && b >= of_first) pairs.emplace_back(a, b);
        });
        std::sort(pairs.begin(), pairs.end());
        for (const auto& [a, b] : pairs) {
            auto contact = contact::face_contact(*near[a], *near[b], within_);
            if (!contact) continue;
            contact->solids = {static_cast<int>(i), static_cast<int>(j)};
            found_.push_back(std::move(*contact));
        }
    }

    std::span<const Solid> solids_;
    double within_;
    std::vector<std::vector<TouchFace>> faces_;  ///< by solid, made when they are first asked for
    std::vector<Contact> found_;
};

}  // namespace

std::vector<Contact> contacts(std::span<const Solid> solids, const ContactOptions& options) {
    if (!(options.within > 0.0) || !std::isfinite(options.within))
        throw GeometryError(
            ErrorKind::invalid_argument,
            "the distance within which faces touch must be positive and finite (mm)");
    if (solids.size() < 2) return {};
    return Search(solids, options.within).run();
}

}  // namespace planform

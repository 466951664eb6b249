#include "drawing/nesting.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <limits>
#include <string>

#include "grid/box_grid.hpp"
#include "grid/box_tree.hpp"
#include "planform/drawing.hpp"
#include "planform/error.hpp"

namespace planform {

namespace {

/// Chords that stand for contours where only inside and outside are asked, relative to their size.
constexpr double nesting_chord_share = 1e-4;

struct Edge {
    std::int32_t contour;
    Point2 low;
    Point2 high;
};

/// Which contours lie around a point: a ray from it crosses each of those an odd number of times.
class Nesting {
  public:
    explicit Nesting(std::span<const Contour> contours)
        : contours_(contours),
          edges_(edges_of(contours)),
          boxes_(boxes_of(edges_)),
          grid_(boxes_),
          tree_(grid_(boxes_)) {
        for (const Box2& box : boxes_) right_ = std::max(right_, box.max().x());
    }

    /// By contour: the indices of those around it, the smallest first.
    std::vector<std::vector<int>> around() const {
        std::vector<std::vector<int>> result(contours_.size());
        for (std::size_t i = 0; i < contours_.size(); ++i)
            result[i] = around(probe_of(contours_[i]), static_cast<std::int32_t>(i));
        return result;
    }

    /// The indices of the contours around a point, but for one, the smallest first.
    std::vector<int> around(const Point2& probe, std::int32_t but_for = -1) const {
        if (!(probe.x() <= right_)) return {};
        Box2 ray(probe);
        ray.extend(Point2(right_, probe.y()));
        std::vector<std::int32_t> crossed;
        tree_.for_each_overlap(grid_(ray), [&](std::int32_t index) {
            const Edge& edge = edges_[static_cast<std::size_t>(index)];
            if (edge.contour != but_for && is_right_of(probe, edge))
                crossed.push_back(edge.contour);
        });
        return odd_ones(crossed);
    }

  private:
    static std::vector<Edge> edges_of(std::span<const Contour> contours) {
        std::vector<Edge> edges;
        for (std::size_t index = 0; index < contours.size(); ++index) {
            const double size = contours[index].bounds().diagonal().norm();
            const std::vector<Point2> points = contours[index].points(nesting_chord_share * size);
            for (std::size_t i = 0; i < points.size(); ++i) {
                const Point2 &a = points[i], &b = points[(i + 1) % points.size()];
                if (a.y() == b.y()) continue;
                edges.push_back({static_cast<std::int32_t>(index), a.y() < b.y() ? a : b,
                                 a.y() < b.y() ? b : a});
            }
        }
        return edges;
    }

    static std::vector<Box2> boxes_of(const std::vector<Edge>& edges) {
        std::vector<Box2> boxes;
        boxes.reserve(edges.size());
        for (const Edge& edge : edges) {
            Box2 box(edge.low);
            box.extend(edge.high);
            boxes.push_back(box);
        }
        return boxes;
    }

    /// The middle of the longest curve: contours may touch in their corners.
    static Point2 probe_of(const Contour& contour) {
        const auto& curves = contour.curves();
        const auto longest =
            std::max_element(curves.begin(), curves.end(),
                             [](const Curve& a, const Curve& b) { return length(a) < length(b); });
        const Interval range = domain(*longest);
        // No round share, so that the ray misses corners on common heights.
        return point_at(*longest, range.first + 0.4871 * (range.last - range.first));
    }

    static bool is_right_of(const Point2& probe, const Edge& edge) {
        if (!(edge.low.y() <= probe.y() && probe.y() < edge.high.y())) return false;
        return cross(edge.high - edge.low, probe - edge.low) > 0.0;
    }

    std::vector<int> odd_ones(std::vector<std::int32_t>& crossed) const {
        std::sort(crossed.begin(), crossed.end());
        std::vector<int> odd;
        for (std::size_t i = 0; i < crossed.size();) {
            std::size_t next = i;
            while (next < crossed.size() && crossed[next] == crossed[i]) ++next;
            if ((next - i) % 2 == 1) odd.push_back(crossed[i]);
            i = next;
        }
        std::stable_sort(odd.begin(), odd.end(), [&](int a, int b) {
            return std::abs(contours_[static_cast<std::size_t>(a)].area()) <
                   std::abs(contours_[static_cast<std::size_t>(b)].area());
        });
        return odd;
    }

    std::span<const Contour> contours_;
    std::vector<Edge> edges_;
    std::vector<Box2> boxes_;
    grid::BoxGrid grid_;
    grid::BoxTree tree_;
    double right_ = -std::numeric_limits<double>::infinity();
};

}  // namespace

std::vector<int> drawing::depths_at(std::span<const Point2> points,
                                    std::span<const Contour> contours) {
    std::vector<int> depths(points.size(), 0);
    if (contours.empty() || points.empty()) return depths;
    const Nesting nesting(contours);
    for (std::size_t i = 0; i < points.size(); ++i)
        depths[i] = static_cast<int>(nesting.around(points[i]).size());
    return depths;
}

std::vector<int> nesting_depths(std::span<const Contour> contours) {
    if (contours.empty()) return {};
    std::vector<int> depths;
    for (const std::vector<int>& around : Nesting(contours).around())
        depths.push_back(static_cast<int>(around.size()));
    return depths;
}

std::vector<Profile> nested_profiles(std::span<const Contour> contours,
                                     std::span<const std::string> names) {
    if (!names.empty() && names.size() != contours.size())
        throw GeometryError(ErrorKind::invalid_argument,
                            "names has one entry a contour, or none at all");
    if (contours.empty()) return {};
    const std::vector<std::vector<int>> around = Nesting(contours).around();
    std::vector<int> profile_of(contours.size(), -1);
    std::vector<std::vector<Contour>> holes(contours.size());
    int count = 0;
    for (std::size_t i = 0; i < contours.size(); ++i) {
        if (around[i].size() % 2 == 0)
            profile_of[i] = count++;
        else
            holes[static_cast<std::size_t>(around[i].front())].push_back(contours[i]);
    }
    std::vector<Profile> profiles;
    profiles.reserve(static_cast<std::size_t>(count));
    for (std::size_t i = 0; i < contours.size(); ++i) {
        if (profile_of[i] < 0) continue;
        // The smallest around an island is a hole, the next one the outer contour of its profile.
        const int parent =
            around[i].size() < 2 ? -1 : profile_of[static_cast<std::size_t>(around[i][1])];
        profiles.emplace_back(contours[i], std::move(holes[i]),
                              names.empty() ? std::string() : names[i], parent, Validate::no);
    }
    return profiles;
}

}  // namespace planform

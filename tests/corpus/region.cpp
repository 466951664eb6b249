#include "region.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace corpus {
namespace {

using planform::Box2;
using planform::Contour;
using planform::Point2;
using planform::Profile;
using planform::ProfileSet;
using planform::Vector2;

double distance_to(const Segment& segment, const Point2& at) {
    const Vector2 way = segment[1] - segment[0], from = at - segment[0];
    const double square = way.squaredNorm();
    const double share = square > 0.0 ? std::clamp(way.dot(from) / square, 0.0, 1.0) : 0.0;
    return (from - share * way).norm();
}

bool lies_in(const Triangle& triangle, const Point2& at) {
    for (std::size_t k = 0; k < 3; ++k) {
        const Point2& corner = triangle[k];
        if (planform::cross(triangle[(k + 1) % 3] - corner, at - corner) < 0.0) return false;
    }
    return true;
}

template <class Shape>
std::vector<Box2> boxes_of(const std::vector<Shape>& shapes) {
    std::vector<Box2> boxes(shapes.size());
    for (std::size_t k = 0; k < shapes.size(); ++k)
        for (const Point2& corner : shapes[k]) boxes[k].extend(corner);
    return boxes;
}

}  // namespace

std::vector<Segment> chords_of(const ProfileSet& set, double chord) {
    std::vector<Segment> segments;
    const auto add = [&](const Contour& contour) {
        const std::vector<Point2> points = contour.points(chord);
        for (std::size_t k = 0; k < points.size(); ++k)
            segments.push_back({points[k], points[(k + 1) % points.size()]});
    };
    for (const Profile& profile : set.profiles()) {
        add(profile.outer());
        for (const Contour& hole : profile.holes()) add(hole);
    }
    return segments;
}

Region::Region(std::vector<Segment> segments)
    : segments_(std::move(segments)), cells_(boxes_of(segments_)) {
    if (segments_.empty()) return;
    const auto heights = [](const Segment& s) {
        return std::pair(std::min(s[0].y(), s[1].y()), std::max(s[0].y(), s[1].y()));
    };
    lowest_ = 1e300;
    highest_ = -1e300;
    for (const Segment& segment : segments_)
        for (const Point2& end : segment) {
            lowest_ = std::min(lowest_, end.y());
            highest_ = std::max(highest_, end.y());
        }
    strips_.resize(std::clamp<std::size_t>(segments_.size(), 1, 4000));
    for (std::size_t k = 0; k < segments_.size(); ++k) {
        const auto [low, high] = heights(segments_[k]);
        for (std::size_t i = strip(low); i <= strip(high); ++i) strips_[i].push_back(k);
    }
}

std::size_t Region::strip(double y) const {
    const double share = (y - lowest_) / (highest_ - lowest_);
    const double place = share * static_cast<double>(strips_.size());
    return place > 0.0 ? std::min(static_cast<std::size_t>(place), strips_.size() - 1) : 0;
}

bool Region::holds(const Point2& at) const {
    if (segments_.empty() || at.y() < lowest_ || at.y() >= highest_) return false;
    bool inside = false;
    for (const std::size_t k : strips_[strip(at.y())]) {
        const Point2 &a = segments_[k][0], &b = segments_[k][1];
        if ((a.y() <= at.y()) == (b.y() <= at.y())) continue;
        const double x = a.x() + (at.y() - a.y()) / (b.y() - a.y()) * (b.x() - a.x());
        if (x > at.x()) inside = !inside;
    }
    return inside;
}

bool Region::is_near(const Point2& at, double distance) const {
    return cells_.any_near(
        at, distance, [&](std::size_t k) { return distance_to(segments_[k], at) <= distance; });
}

Cover::Cover(const std::vector<Triangle>& triangles) {
    for (const Triangle& triangle : triangles) {
        const double area = planform::cross(triangle[1] - triangle[0], triangle[2] - triangle[0]);
        const double longest =
            std::max({(triangle[1] - triangle[0]).norm(), (triangle[2] - triangle[1]).norm(),
                      (triangle[0] - triangle[2]).norm()});
        if (std::abs(area) <= 1e-9 * longest * longest) continue;
        triangles_.push_back(triangle);
        if (area < 0.0) std::swap(triangles_.back()[1], triangles_.back()[2]);
    }
    cells_ = Cells(boxes_of(triangles_));
}

bool Cover::holds(const Point2& at) const {
    return cells_.any_near(at, 0.0, [&](std::size_t k) { return lies_in(triangles_[k], at); });
}

bool Cover::is_near(const Point2& at, double distance) const {
    return cells_.any_near(at, distance, [&](std::size_t k) {
        const Triangle& t = triangles_[k];
        for (std::size_t i = 0; i < 3; ++i)
            if (distance_to({t[i], t[(i + 1) % 3]}, at) <= distance) return true;
        return lies_in(t, at);
    });
}

}  // namespace corpus

#include "cells.hpp"

#include <algorithm>
#include <cmath>

namespace corpus {

using planform::Box2;
using planform::Point2;
using planform::Vector2;

Cells::Cells(const std::vector<Box2>& boxes) {
    if (boxes.empty()) return;
    Box2 all;
    for (const Box2& box : boxes) all.extend(box);
    corner_ = all.min();
    const Vector2 size = all.sizes().cwiseMax(1e-9 + 1e-6 * all.sizes().maxCoeff());
    const double side = std::sqrt(size.prod() / static_cast<double>(boxes.size()));
    const auto count = [&](double length) {
        return std::clamp(static_cast<int>(std::ceil(length / side)), 1, 2000);
    };
    columns_ = count(size.x());
    rows_ = count(size.y());
    width_ = size.x() / columns_;
    height_ = size.y() / rows_;
    const auto each_cell = [&](const auto& act) {
        for (std::size_t k = 0; k < boxes.size(); ++k)
            for (int j = row(boxes[k].min().y()); j <= row(boxes[k].max().y()); ++j)
                for (int i = column(boxes[k].min().x()); i <= column(boxes[k].max().x()); ++i)
                    act(index(i, j), k);
    };
    starts_.assign(index(columns_ - 1, rows_ - 1) + 2, 0);
    each_cell([&](std::size_t cell, std::size_t) { ++starts_[cell + 1]; });
    for (std::size_t c = 1; c < starts_.size(); ++c) starts_[c] += starts_[c - 1];
    items_.resize(starts_.back());
    std::vector<std::size_t> next = starts_;
    each_cell([&](std::size_t cell, std::size_t k) { items_[next[cell]++] = k; });
}

int Cells::column(double x) const {
    return static_cast<int>(std::clamp((x - corner_.x()) / width_, 0.0, columns_ - 1.0));
}

int Cells::row(double y) const {
    return static_cast<int>(std::clamp((y - corner_.y()) / height_, 0.0, rows_ - 1.0));
}

}  // namespace corpus

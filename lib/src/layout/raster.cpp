#include "layout/raster.hpp"

#include <algorithm>
#include <cmath>

namespace planform::layout {
namespace {

void extend(std::vector<CellSpan>& spans, double low, double high) {
    spans.push_back({static_cast<int>(std::floor(low)), static_cast<int>(std::floor(high))});
}

/// Overlapping and adjacent spans become one.
void unite(std::vector<CellSpan>& spans) {
    std::sort(spans.begin(), spans.end(), [](const CellSpan& a, const CellSpan& b) {
        return a.first < b.first || (a.first == b.first && a.last < b.last);
    });
    std::size_t kept = 0;
    for (std::size_t i = 1; i < spans.size(); ++i) {
        if (spans[i].first <= spans[kept].last + 1)
            spans[kept].last = std::max(spans[kept].last, spans[i].last);
        else
            spans[++kept] = spans[i];
    }
    if (!spans.empty()) spans.resize(kept + 1);
}

struct Edge {
    Point2 a, b;  ///< in cells
};

void cover_edge(const Edge& edge, Coverage& result) {
    const bool forward = edge.a.x() <= edge.b.x();
    const Point2& left = forward ? edge.a : edge.b;
    const Point2& right = forward ? edge.b : edge.a;
    const int first = static_cast<int>(std::floor(left.x()));
    const int last = static_cast<int>(std::floor(right.x()));
    const double run = right.x() - left.x();
    for (int i = first; i <= last; ++i) {
        double from = left.y();
        double to = right.y();
        if (run > 0.0 && first != last) {
            const double slope = (right.y() - left.y()) / run;
            from = left.y() + slope * (std::max<double>(i, left.x()) - left.x());
            to = left.y() + slope * (std::min<double>(i + 1.0, right.x()) - left.x());
        }
        extend(result.columns[i - result.column], std::min(from, to), std::max(from, to));
    }
}

/// What lies inside on the middle line of each column.
void cover_inside(const std::vector<Edge>& edges, Coverage& result) {
    std::vector<std::vector<double>> crossings(result.columns.size());
    for (const Edge& edge : edges) {
        const double low = std::min(edge.a.x(), edge.b.x());
        const double high = std::max(edge.a.x(), edge.b.x());
        for (int i = static_cast<int>(std::floor(low)); i + 0.5 < high; ++i) {
            const double x = i + 0.5;
            if (x < low) continue;
            const double t = (x - edge.a.x()) / (edge.b.x() - edge.a.x());
            crossings[i - result.column].push_back(edge.a.y() + t * (edge.b.y() - edge.a.y()));
        }
    }
    for (std::size_t i = 0; i < crossings.size(); ++i) {
        std::sort(crossings[i].begin(), crossings[i].end());
        for (std::size_t j = 0; j + 1 < crossings[i].size(); j += 2)
            extend(result.columns[i], crossings[i][j], crossings[i][j + 1]);
    }
}

}  // namespace

Coverage coverage(const Rings& rings, const Point2& origin, double cell, Cover cover) {
    std::vector<Edge> edges;
    double low = rings.outer.empty() ? 0.0 : (rings.outer[0].x() - origin.x()) / cell;
    double high = low;
    const auto add = [&](const Ring& ring) {
        for (std::size_t i = 0; i < ring.size(); ++i) {
            const Edge edge{(ring[i] - origin) / cell,
                            (ring[(i + 1) % ring.size()] - origin) / cell};
            low = std::min(low, edge.a.x());
            high = std::max(high, edge.a.x());
            edges.push_back(edge);
        }
    };
    add(rings.outer);
    for (const Ring& hole : rings.holes) add(hole);
    Coverage result;
    result.column = static_cast<int>(std::floor(low));
    result.columns.resize(static_cast<int>(std::floor(high)) - result.column + 1);
    if (cover != Cover::middles)
        for (const Edge& edge : edges) cover_edge(edge, result);
    if (cover != Cover::edges) cover_inside(edges, result);
    bool is_first = true;
    for (std::vector<CellSpan>& spans : result.columns) {
        unite(spans);
        if (spans.empty()) continue;
        result.lowest =
            is_first ? spans.front().first : std::min(result.lowest, spans.front().first);
        result.highest = is_first ? spans.back().last : std::max(result.highest, spans.back().last);
        is_first = false;
    }
    return result;
}

BitColumns::BitColumns(int columns, int rows)
    : columns_(columns),
      rows_(rows),
      words_((rows + 63) / 64),
      bits_(static_cast<std::size_t>(columns) * words_, 0) {}

void BitColumns::set(int column, int first, int last, bool value) {
    if (column < 0 || column >= columns_) return;
    first = std::max(first, 0);
    last = std::min(last, rows_ - 1);
    if (first > last) return;
    std::uint64_t* words = this->column(column);
    const int from = first / 64, to = last / 64;
    const std::uint64_t head = ~std::uint64_t{0} << (first % 64);
    const std::uint64_t tail = ~std::uint64_t{0} >> (63 - last % 64);
    const auto put = [&](int word, std::uint64_t mask) {
        words[word] = value ? words[word] | mask : words[word] & ~mask;
    };
    if (from == to) {
        put(from, head & tail);
        return;
    }
    put(from, head);
    for (int i = from + 1; i < to; ++i) put(i, ~std::uint64_t{0});
    put(to, tail);
}

namespace {

/// target |= source shifted down by `rows`.
void or_down(const std::uint64_t* source, int words, int rows, std::uint64_t* target) {
    const int skip = rows / 64, bits = rows % 64;
    for (int i = 0; i + skip < words; ++i) {
        std::uint64_t word = source[i + skip] >> bits;
        if (bits != 0 && i + skip + 1 < words) word |= source[i + skip + 1] << (64 - bits);
        target[i] |= word;
    }
}

}  // namespace

void or_shifted_down(const std::uint64_t* source, int words, int first, int last,
                     std::uint64_t* scratch, std::uint64_t* target) {
    // By doubling: scratch covers shifts 0 to covered - 1.
    const int count = last - first + 1;
    std::copy(source, source + words, scratch);
    int covered = 1;
    while (2 * covered <= count) {
        // Ascending words read only words above, of which none has been written yet but its own.
        or_down(scratch, words, covered, scratch);
        covered *= 2;
    }
    or_down(scratch, words, first, target);
    if (covered < count) or_down(scratch, words, first + count - covered, target);
}

}  // namespace planform::layout

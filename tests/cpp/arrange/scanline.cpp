#include "arrange/scanline.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace planform::arrange::test {
namespace {

/// A chord that rises from low to high; `weight` is what it adds to the winding number on its left,
/// so what going over it from left to right takes off.
struct RisingChord {
    Point2 low;
    Point2 high;
    Winding weight;

    double x_at(double y) const {
        return low.x() + (y - low.y()) / (high.y() - low.y()) * (high.x() - low.x());
    }
};

std::vector<RisingChord> collect_chords(const Input& input, double tolerance) {
    std::vector<RisingChord> chords;
    for (const DirectedCurve& c : input.curves) {
        std::vector<Point2> outline = points(c.curve, tolerance);
        outline.front() = input.nodes[static_cast<std::size_t>(c.start_node)];
        outline.back() = input.nodes[static_cast<std::size_t>(c.end_node)];
        for (std::size_t i = 0; i + 1 < outline.size(); ++i) {
            RisingChord chord{outline[i], outline[i + 1], Winding{}};
            chord.weight[static_cast<std::size_t>(c.operand)] = c.weight;
            if (chord.low.y() == chord.high.y()) continue;
            if (chord.low.y() > chord.high.y()) {
                std::swap(chord.low, chord.high);
                for (int& w : chord.weight) w = -w;
            }
            chords.push_back(chord);
        }
    }
    std::sort(chords.begin(), chords.end(),
              [](const RisingChord& a, const RisingChord& b) { return a.low.y() < b.low.y(); });
    return chords;
}

std::vector<double> collect_heights(const std::vector<RisingChord>& chords) {
    std::vector<double> heights;
    for (std::size_t i = 0; i < chords.size(); ++i) {
        const RisingChord& a = chords[i];
        heights.push_back(a.low.y());
        heights.push_back(a.high.y());
        for (std::size_t k = i + 1; k < chords.size() && chords[k].low.y() < a.high.y(); ++k) {
            const RisingChord& b = chords[k];
            const double bottom = b.low.y(), top = std::min(a.high.y(), b.high.y());
            const double below = a.x_at(bottom) - b.x_at(bottom), above = a.x_at(top) - b.x_at(top);
            if ((below < 0.0) == (above < 0.0)) continue;
            heights.push_back(bottom + below / (below - above) * (top - bottom));
        }
    }
    std::sort(heights.begin(), heights.end());
    heights.erase(std::unique(heights.begin(), heights.end()), heights.end());
    return heights;
}

}  // namespace

double scanline_area(const Input& input, const std::function<bool(const Winding&)>& inside,
                     double tolerance) {
    const std::vector<RisingChord> chords = collect_chords(input, tolerance);
    const std::vector<double> heights = collect_heights(chords);
    std::vector<std::size_t> active;
    std::vector<std::pair<double, std::size_t>> row;
    std::size_t next = 0;
    double area = 0.0;
    for (std::size_t h = 0; h + 1 < heights.size(); ++h) {
        const double middle = 0.5 * (heights[h] + heights[h + 1]);
        while (next < chords.size() && chords[next].low.y() < middle) active.push_back(next++);
        std::erase_if(active, [&](std::size_t i) { return chords[i].high.y() <= middle; });
        row.clear();
        for (const std::size_t i : active) row.emplace_back(chords[i].x_at(middle), i);
        std::sort(row.begin(), row.end());
        Winding winding{};
        for (std::size_t i = 0; i + 1 < row.size(); ++i) {
            for (std::size_t k = 0; k < winding.size(); ++k)
                winding[k] -= chords[row[i].second].weight[k];
            if (inside(winding))
                area += (row[i + 1].first - row[i].first) * (heights[h + 1] - heights[h]);
        }
    }
    return area;
}

}  // namespace planform::arrange::test

#include "offset/moved.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <map>
#include <optional>
#include <utility>

#include "arrange/arrange.hpp"
#include "curve/index.hpp"
#include "offset/separation.hpp"
#include "offset/short_bands.hpp"
#include "planform/profile.hpp"

namespace planform::offset_detail {
namespace {

using detail::index;

/// mm that raw loops have to keep off each other and themselves to be the result as they are.
constexpr double parallel_clearance = 1e-6;

/// What ends of lines and arcs may be apart in the result, which then are where the distance says:
/// below what readers of drawings join, and what a contour allows.
constexpr double widest_gap = 1e-5;
constexpr double widest_gap_per_size = 0.25 * Contour::closure;

/// mm: only lines and circles this near are one, so that each stays at its distance.
constexpr double same_line = 1e-10;

double area_of(const RawLoop& loop) {
    if (loop.curves.empty()) return 0.0;
    const Point2 pivot = start_point(loop.curves.front());
    double area = 0.0;
    for (const Curve& curve : loop.curves) area += swept_area(curve, pivot);
    return area;
}

class Mover {
  public:
    Mover(const Source& source, const LoopStyle& style, double resolution)
        : source_(source),
          style_(style),
          resolution_(resolution),
          known_(std::make_shared<LoopField>(parallel_clearance)),
          field_(*known_) {}

    Moved run_together() {
        make_raw_loops();
        arrange_all();
        nest();
        return {std::move(result_), nullptr, has_short_bands_};
    }

    Moved run() {
        make_raw_loops();
        field_.tell_apart();
        field_.index();
        find_groups();
        if (direct_ == source_.chains.size()) return {as_they_lie(), known_};
        if ((both_ways_ && !all_alone_) || !bases_agree()) {
            arrange_all();
        } else {
            for (const auto& [head, members] : groups_) {
                const Kind kind = kinds_[index(head)];
                if (kind == Kind::result)
                    result_.push_back({std::move(raw_[index(head)]), false, -1});
                else if (kind == Kind::entangled)
                    arrange_group(members, *base_of(members));
            }
        }
        nest();
        return {std::move(result_), nullptr, has_short_bands_};
    }

  private:
    /// What has become of a raw loop.
    enum class Kind { result, nothing, entangled };

    int chains() const { return static_cast<int>(source_.chains.size()); }

    void make_raw_loops() {
        bool gives = false, takes = false;
        for (const Chain& chain : source_.chains) {
            for (const Element& element : chain.elements) {
                gives = gives || element.distance > 0.0;
                takes = takes || element.distance < 0.0;
            }
        }
        both_ways_ = gives && takes;
        const std::optional<ShortBands> bands = short_bands();
        has_short_bands_ = bands.has_value();
        for (const Chain& chain : source_.chains) {
            raw_.push_back(bands ? raw_loop(bands->of(chain.elements), style_)
                                 : raw_loop(chain.elements, style_));
            field_.add_loop(raw_.back().curves, true);
        }
    }

    /// Bands of different distances are not short for each other; nor may corners that are not
    /// round leave a place to a band that would not have to reach it.
    std::optional<ShortBands> short_bands() const {
        if (!style_.shortens_bands || style_.corners.corners != Corners::round) return std::nullopt;
        std::optional<double> common;
        for (const Chain& chain : source_.chains)
            for (const Element& element : chain.elements) {
                if (common && *common != element.distance) return std::nullopt;
                common = element.distance;
            }
        if (!common) return std::nullopt;
        const LoopField& outlines = *source_.field;
        if (std::none_of(source_.chains.begin(), source_.chains.end(), [&](const Chain& chain) {
                return ShortBands::are_worth_it(outlines, *common, chain.elements);
            }))
            return std::nullopt;
        return std::optional<ShortBands>(std::in_place, outlines, *common, resolution_);
    }

    void find_groups() {
        for (int i = 0; i < chains(); ++i) groups_[field_.group(i)].push_back(i);
        kinds_.assign(index(chains()), Kind::entangled);
        for (const auto& [head, members] : groups_) {
            if (members.size() == 1) kinds_[index(head)] = kind_of(head);
            all_alone_ = all_alone_ && kinds_[index(head)] != Kind::entangled;
            direct_ += kinds_[index(head)] == Kind::result;
        }
    }

    /// A raw loop that keeps off all others and itself bounds material if it is turned as its
    /// chain is, and the others turn around it as they did. It bounds nothing if they don't: it
    /// has passed through another.
    Kind kind_of(int chain) const {
        if (field_.is_empty(chain)) return Kind::nothing;
        const bool is_hole = source_.chains[index(chain)].is_hole;
        if (!field_.is_simple(chain) || (area_of(raw_[index(chain)]) < 0.0) != is_hole)
            return Kind::entangled;
        return *base_of({chain}) == (is_hole ? 1 : 0) ? Kind::result : Kind::nothing;
    }

    /// All chains moved a little: they lie in each other as they did.
    std::vector<MovedLoop> as_they_lie() {
        std::vector<int> outer_of(source_.parents.size(), -1);
        for (int i = 0; i < chains(); ++i) {
            const Chain& chain = source_.chains[index(i)];
            if (!chain.is_hole) outer_of[index(chain.profile)] = i;
        }
        for (int i = 0; i < chains(); ++i) {
            const Chain& chain = source_.chains[index(i)];
            int parent = source_.parents[index(chain.profile)];
            if (parent >= 0) parent = outer_of[index(parent)];
            if (chain.is_hole) parent = outer_of[index(chain.profile)];
            result_.push_back({std::move(raw_[index(i)]), chain.is_hole, parent});
        }
        return std::move(result_);
    }

    /// How often the chains of other groups turn around a group: the same for all of its chains,
    /// or nothing.
    std::optional<int> base_of(const std::vector<int>& members) const {
        std::optional<int> base;
        for (const int chain : members) {
            if (field_.is_empty(chain)) continue;
            const int winding =
                field_.winding_but_for(field_.group(chain), field_.places(chain)[0]);
            if (base && *base != winding) return std::nullopt;
            base = winding;
        }
        return base.value_or(0);
    }

    bool bases_agree() const {
        for (const auto& [head, members] : groups_)
            if (!base_of(members)) return false;
        return true;
    }

    void arrange_all() {
        std::vector<int> all;
        for (int i = 0; i < chains(); ++i) all.push_back(i);
        arrange_group(all, 0);
    }

    void arrange_group(const std::vector<int>& members, int base) {
        arrange::Input input;
        Box2 box;
        for (const int chain : members) {
            add_chain(chain, input);
            for (const Curve& curve : raw_[index(chain)].curves) box.extend(bounds(curve));
        }
        if (input.curves.empty()) return;
        if (base != 0) add_frame(box, base, input);
        arrange::Options options;
        options.tolerance = resolution_;
        options.same_line = same_line;
        options.kept_gaps = {widest_gap, widest_gap_per_size};
        options.inside = [](const arrange::Winding& w) { return w[0] > 0 && w[1] <= 0; };
        for (arrange::Loop& loop : arrange::arrange(input, options)) {
            if (std::find(loop.tags.begin(), loop.tags.end(), frame_tag) != loop.tags.end())
                continue;
            result_.push_back({{std::move(loop.curves), std::move(loop.tags)}, loop.hole, -1});
        }
    }

    void add_chain(int chain, arrange::Input& input) const {
        if (!both_ways_) {
            add_loop(input, raw_[index(chain)], 1, 0);
            return;
        }
        std::vector<Element> elements = source_.chains[index(chain)].elements;
        for (const RawLoop& loop : taken_loops(elements, style_)) add_loop(input, loop, 1, 1);
        for (Element& element : elements) element.distance = std::max(element.distance, 0.0);
        add_loop(input, raw_loop(elements, style_), 1, 0);
    }

    /// A frame about the group stands for what lies around it.
    static void add_frame(const Box2& box, int base, arrange::Input& input) {
        const Vector2 margin = Vector2::Constant(0.1 * box.sizes().maxCoeff() + 1.0);
        const Point2 low = box.min() - margin, high = box.max() + margin;
        const std::vector<Point2> corners{low, {high.x(), low.y()}, high, {low.x(), high.y()}};
        RawLoop frame;
        for (std::size_t i = 0; i < 4; ++i) {
            frame.curves.push_back(Line{corners[i], corners[(i + 1) % 4]});
            frame.tags.push_back(frame_tag);
        }
        add_loop(input, frame, base, 0);
    }

    /// Finds what lies in what among the loops of the result.
    void nest() {
        LoopField field(parallel_clearance);
        std::vector<double> areas;
        for (MovedLoop& moved : result_) {
            field.add_loop(moved.loop.curves, true);
            areas.push_back(area_of(moved.loop));
            moved.is_hole = areas.back() < 0.0;
        }
        field.index();
        std::vector<int> within(result_.size(), -1);
        for (int i = 0; i < static_cast<int>(result_.size()); ++i) {
            const std::array<Point2, 3> places = field.places(i);
            for (const int other : field.around(places[0])) {
                if (other == i || std::abs(areas[index(other)]) <= std::abs(areas[index(i)]))
                    continue;
                const int best = within[index(i)];
                if (best >= 0 && std::abs(areas[index(other)]) >= std::abs(areas[index(best)]))
                    continue;
                if (field.winding_of_most(other, places) != 0) within[index(i)] = other;
            }
        }
        for (std::size_t i = 0; i < result_.size(); ++i) {
            int around = within[i];
            // A hole's is the outer loop around it; an outer loop's is that of the hole around it.
            if (!result_[i].is_hole && around >= 0)
                around = result_[index(around)].is_hole ? within[index(around)] : -1;
            result_[i].parent = around;
        }
    }

    static constexpr int frame_tag = -1;

    const Source& source_;
    LoopStyle style_;
    double resolution_;
    std::shared_ptr<LoopField> known_;
    LoopField& field_;
    std::vector<RawLoop> raw_;
    std::map<int, std::vector<int>> groups_;
    std::vector<Kind> kinds_;  ///< by chain
    bool both_ways_ = false;
    bool has_short_bands_ = false;
    bool all_alone_ = true;
    std::size_t direct_ = 0;
    std::vector<MovedLoop> result_;
};

}  // namespace

Moved moved_loops(const Source& source, const LoopStyle& style, double resolution, bool apart) {
    Mover mover(source, style, resolution);
    Moved moved = apart ? mover.run() : mover.run_together();
    for (MovedLoop& one : moved.loops) close_gaps(one.loop);
    return moved;
}

}  // namespace planform::offset_detail

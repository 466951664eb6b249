#include "plan/apart_order.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <tuple>

#include "curve/index.hpp"

/// Two orders are begun with, each cut the best that may come next: by the way to it, and by how
/// many cuts are still to come near it, so that none are left over in one place. Of each, single
/// cuts are then moved to other places in the order by simulated annealing (S. Kirkpatrick, C. D.
/// Gelatt, M. P. Vecchi, "Optimization by simulated annealing", Science 220 (1983), from memory).
///
/// Notation: k cuts after one none is nearer than D; s(a, b) is the shortfall of two, and c(a, b)
/// their closeness, s + D / 2 where s is above 0: one pair less counts more than all somewhat
/// further apart. The load of a place is the sum of c over the k places before it, weighted, and
/// the way to it. A move changes the loads of the moved cut and of the k behind its old and its new
/// place alone.

namespace planform::planning {
namespace {

using detail::index;

/// mm of travel that a millimetre of closeness counts as: keeping apart comes first.
constexpr double closeness_weight = 20.0;
/// Moves tried for each cut, and in all.
constexpr int tries_each = 1500, most_tries = 2000000;
/// Furthest that a cut is moved in the order: what lies between has to be shifted.
constexpr int furthest_move = 2000;
/// Share of moves to places nearby in the order.
constexpr int nearby = 30;
/// Temperatures, mm: a whole shortfall is undone at first, hardly a way at last.
constexpr double first_temperature = 300.0, last_temperature = 0.5;
constexpr std::uint64_t apart_seed = 21;

double closeness(const Apart& apart, int a, int b) {
    const double missing = shortfall(apart, a, b);
    return missing > 0.0 ? missing + 0.5 * apart.distance : 0.0;
}

/// Cuts that are not made yet, counted in square cells as wide as they keep apart.
class Crowd {
  public:
    explicit Crowd(const Apart& apart) {
        Box2 all;
        for (const Box2& box : apart.boxes) all.extend(box.center());
        low_ = all.min();
        const double side = all.sizes().maxCoeff();
        size_ = std::max({apart.distance, side / most_cells, 1e-6});
        columns_ = static_cast<int>(all.sizes().x() / size_) + 3;
        rows_ = static_cast<int>(all.sizes().y() / size_) + 3;
        counts_.assign(index(columns_) * index(rows_), 0);
        for (const Box2& box : apart.boxes) ++counts_[cell(box.center())];
    }
    void remove(const Point2& center) { --counts_[cell(center)]; }
    /// How many are left around.
    int around(const Point2& center) const {
        const auto at = cell(center);
        int sum = 0;
        for (const int row : {-1, 0, 1})
            for (const int column : {-1, 0, 1})
                sum += counts_[static_cast<std::size_t>(static_cast<int>(at) + row * columns_ +
                                                        column)];
        return sum;
    }

  private:
    static constexpr double most_cells = 300.0;
    std::size_t cell(const Point2& center) const {
        const Vector2 place = (center - low_) / size_;
        return index(static_cast<int>(place.y()) + 1) * index(columns_) +
               index(static_cast<int>(place.x()) + 1);
    }
    Point2 low_;
    double size_ = 1.0;
    int columns_ = 1, rows_ = 1;
    std::vector<int> counts_;
};

/// Each time the cut that keeps best apart from the last ones; of such the one with most others
/// around it if `crowded_first`, then the nearest.
std::vector<int> greedy(const Apart& apart, Point2 at, bool crowded_first) {
    const auto& stops = apart.stops;
    std::vector<int> waiting(stops.size(), 0);
    for (const Stop& stop : stops)
        if (stop.within >= 0) ++waiting[index(stop.within)];
    std::vector<int> ready;
    for (int s = 0; s < static_cast<int>(stops.size()); ++s)
        if (waiting[index(s)] == 0) ready.push_back(s);
    Crowd crowd(apart);
    std::vector<int> order;
    while (!ready.empty()) {
        std::size_t best = 0;
        std::tuple<double, int, double, int> least;
        for (std::size_t r = 0; r < ready.size(); ++r) {
            const int s = ready[r];
            double sum = 0.0;
            const auto last = std::min(order.size(), index(apart.count));
            for (std::size_t i = order.size() - last; i < order.size(); ++i)
                sum += closeness(apart, s, order[i]);
            const int others = crowded_first ? crowd.around(apart.boxes[index(s)].center()) : 0;
            const std::tuple key(sum, -others, (stops[index(s)].start - at).norm(), s);
            if (r > 0 && key >= least) continue;
            best = r;
            least = key;
        }
        const int next = ready[best];
        ready.erase(ready.begin() + static_cast<std::ptrdiff_t>(best));
        order.push_back(next);
        crowd.remove(apart.boxes[index(next)].center());
        at = stops[index(next)].end;
        const int around = stops[index(next)].within;
        if (around >= 0 && --waiting[index(around)] == 0) ready.push_back(around);
    }
    return order;
}

/// An order while cuts are moved in it.
class Annealing {
  public:
    Annealing(const Apart& apart, std::vector<int> order, const Point2& home)
        : apart_(apart),
          home_(home),
          order_(std::move(order)),
          place_(order_.size()),
          inside_(order_.size()),
          random_(apart_seed) {
        for (int s = 0; s < size(); ++s) {
            const int around = apart.stops[index(s)].within;
            if (around >= 0) inside_[index(around)].push_back(s);
        }
        for (int p = 0; p < size(); ++p) {
            place_[index(order_[index(p)])] = p;
            cost_ += load(at(p), p, [this](int i) { return at(i); });
        }
    }

    /// Ends with hardly a way left undone; where that is worse than the start, the start counts.
    void run() {
        if (size() < 3) return;
        const std::vector<int> start = order_;
        const double start_cost = cost_;
        const int tries = std::min(tries_each * size(), most_tries);
        const double cooling = std::pow(last_temperature / first_temperature, 1.0 / tries);
        double temperature = first_temperature;
        for (int i = 0; i < tries; ++i, temperature *= cooling) try_move(temperature);
        if (cost_ <= start_cost) return;
        order_ = start;
        cost_ = start_cost;
    }

    const std::vector<int>& order() const { return order_; }
    double cost() const { return cost_; }

  private:
    int size() const { return static_cast<int>(order_.size()); }
    int at(int place) const { return place < 0 || place >= size() ? -1 : order_[index(place)]; }
    int below(int limit) { return static_cast<int>(random_() % static_cast<std::uint64_t>(limit)); }

    /// Of a cut at a place, in the order that `at` tells.
    template <typename At>
    double load(int cut, int place, const At& at) const {
        if (cut < 0) return 0.0;
        const int before = at(place - 1);
        const Point2& from = before < 0 ? home_ : apart_.stops[index(before)].end;
        double sum = (apart_.stops[index(cut)].start - from).norm();
        for (int i = 1; i <= apart_.count; ++i)
            if (const int other = at(place - i); other >= 0)
                sum += closeness_weight * closeness(apart_, cut, other);
        return sum;
    }

    /// Where the cut at a place may come: between what lies in it and what it lies within.
    std::pair<int, int> allowed(int place) const {
        int first = std::max(0, place - furthest_move);
        int last = std::min(size() - 1, place + furthest_move);
        for (const int s : inside_[index(at(place))]) first = std::max(first, place_[index(s)] + 1);
        const int around = apart_.stops[index(at(place))].within;
        if (around >= 0) last = std::min(last, place_[index(around)] - 1);
        return {first, last};
    }

    void try_move(double temperature) {
        const int from = below(size());
        auto [first, last] = allowed(from);
        if (below(2) == 0) {
            first = std::max(first, from - nearby);
            last = std::min(last, from + nearby);
        }
        if (first >= last) return;
        const int to = first + below(last - first + 1);
        if (to == from) return;
        const double change = change_of(from, to);
        if (change > 0.0) {
            const double chance = static_cast<double>(random_() >> 11) * 0x1p-53;
            if (chance >= std::exp(-change / temperature)) return;
        }
        move(from, to);
        cost_ += change;
    }

    /// By how much the cost grows if the cut at a place comes to another.
    double change_of(int from, int to) const {
        const auto now = [this](int i) { return at(i); };
        const auto then = [this, from, to](int i) {
            if (i == to) return at(from);
            if (from < to && i >= from && i < to) return at(i + 1);
            if (to < from && i > to && i <= from) return at(i - 1);
            return at(i);
        };
        const auto moved = [from, to](int i) {
            return i == from   ? to
                   : from < to ? (i > from && i <= to ? i - 1 : i)
                               : (i >= to && i < from ? i + 1 : i);
        };
        const int reach = std::max(apart_.count, 1);
        double sum = load(at(from), to, then) - load(at(from), from, now);
        const int behind = from < to ? to + 1 : to;  // the first that gets the cut before it
        for (int i = from + 1; i <= from + reach; ++i)
            sum += load(at(i), moved(i), then) - load(at(i), i, now);
        for (int i = behind; i < behind + reach; ++i)
            if (i != from && (i <= from || i > from + reach))
                sum += load(at(i), moved(i), then) - load(at(i), i, now);
        return sum;
    }

    void move(int from, int to) {
        const auto begin = order_.begin();
        if (from < to)
            std::rotate(begin + from, begin + from + 1, begin + to + 1);
        else
            std::rotate(begin + to, begin + from, begin + from + 1);
        for (int p = std::min(from, to); p <= std::max(from, to); ++p) place_[index(at(p))] = p;
    }

    const Apart& apart_;
    Point2 home_;
    std::vector<int> order_, place_;
    std::vector<std::vector<int>> inside_;
    std::mt19937_64 random_;
    double cost_ = 0.0;
};

}  // namespace

double shortfall(const Apart& apart, int a, int b) {
    const double square = apart.boxes[index(a)].squaredExteriorDistance(apart.boxes[index(b)]);
    if (square >= apart.distance * apart.distance) return 0.0;
    return apart.distance - std::sqrt(square);
}

double shortfall_of(const Apart& apart, const std::vector<int>& order) {
    double sum = 0.0;
    for (std::size_t i = 0; i < order.size(); ++i)
        for (std::size_t j = i + 1; j <= i + index(apart.count) && j < order.size(); ++j)
            sum += shortfall(apart, order[i], order[j]);
    return sum;
}

std::vector<int> apart_order(const Apart& apart, const Point2& home) {
    if (apart.stops.empty()) return {};
    std::vector<int> best;
    double least = 0.0;
    for (const bool crowded_first : {false, true}) {
        Annealing annealing(apart, greedy(apart, home, crowded_first), home);
        annealing.run();
        if (!best.empty() && annealing.cost() >= least) continue;
        best = annealing.order();
        least = annealing.cost();
    }
    return best;
}

}  // namespace planform::planning

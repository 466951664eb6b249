#include "arrange/carriers/coincidences.hpp"

#include <algorithm>
#include <cstddef>
#include <utility>
#include <vector>

#include "arrange/carriers/carrier_places.hpp"
#include "grid/order.hpp"

namespace planform::arrange {
namespace {

/// Places along a piece, or each span of one, at which its distance from another is looked at.
/// Spans of common degrees that agree in all of these agree.
constexpr int samples_of_piece = 16, samples_of_span = 8;

class Unifier {
  public:
    Unifier(CarrierSet& set, double same) : set_(set), same_(same) {}

    void run() {
        const auto lower = [&](std::int32_t i) {
            return std::min(piece(i).start_node, piece(i).end_node);
        };
        const std::vector<std::int32_t> order =
            grid::order_by_small_key(grid::counted(set_.pieces.size()), set_.nodes.size(), lower);
        for (std::size_t i = 0; i < order.size(); ++i)
            for (std::size_t k = i + 1; k < order.size() && lower(order[k]) == lower(order[i]); ++k)
                if (is_alive(order[i]) && is_alive(order[k])) unite_if_one(order[i], order[k]);
        std::erase_if(set_.pieces, [](const Piece& p) { return p.weight == Winding{}; });
    }

  private:
    Piece& piece(std::int32_t index) { return set_.pieces[static_cast<std::size_t>(index)]; }
    const Carrier& carrier(const Piece& piece) const {
        return set_.carriers[static_cast<std::size_t>(piece.carrier)];
    }
    bool is_alive(std::int32_t index) { return piece(index).weight != Winding{}; }

    void unite_if_one(std::int32_t first, std::int32_t second) {
        Piece *a = &piece(first), *b = &piece(second);
        const bool same_nodes =
            std::minmax(a->start_node, a->end_node) == std::minmax(b->start_node, b->end_node);
        if (!same_nodes || a->carrier == b->carrier) return;
        const auto rank = [&](const Piece& p) { return std::pair(carrier(p).kind, p.carrier); };
        if (rank(*b) < rank(*a)) std::swap(a, b);
        const int sense = sense_along(*b, *a);
        // Both ways: what one does between two places of the other is seen by its own places alone.
        if (sense == 0 || sense_along(*a, *b) == 0) return;
        for (std::size_t k = 0; k < a->weight.size(); ++k) a->weight[k] += sense * b->weight[k];
        a->tag = std::min(a->tag, b->tag);
        b->weight = Winding{};
    }

    /// 1 if a piece runs along another all the way, -1 if against it, 0 if it leaves it.
    int sense_along(const Piece& piece, const Piece& other) const {
        const Carrier &own = carrier(piece), &c = carrier(other);
        std::vector<double> places = places_along(own, piece.from, piece.to, samples_of_span);
        if (places.size() <= samples_of_piece)
            places = places_along(own, piece.from, piece.to, samples_of_piece);
        const int samples = static_cast<int>(places.size()) - 1;
        const auto at = [&](int k) { return places[static_cast<std::size_t>(k)]; };
        const auto foot = [&](int k, double guess) {
            return std::clamp(c.parameter_near(own.position(at(k)), guess), other.from, other.to);
        };
        const auto is_on = [&](int k, double foot) {
            return (c.position(foot) - own.position(at(k))).norm() <= same_;
        };
        // The middle first: most pieces between the same nodes differ there.
        const double middle = foot(samples / 2, 0.5 * (other.from + other.to));
        if (!is_on(samples / 2, middle)) return 0;
        const Vector2 along = own.direction(at(samples / 2));
        const int sense = along.dot(c.direction(middle)) > 0.0 ? 1 : -1;
        double guess = sense > 0 ? other.from : other.to;
        for (int k = 1; k < samples; ++k) {
            const double last = guess;
            const double share = (at(k) - at(k - 1)) / (piece.to - piece.from);
            guess = foot(k, last + (other.to - other.from) * sense * share);
            if (!is_on(k, guess) || (guess - last) * sense <= 0.0) return 0;
        }
        return sense;
    }

    CarrierSet& set_;
    double same_;
};

}  // namespace

void unite_coincident(CarrierSet& set, double same) { Unifier(set, same).run(); }

}  // namespace planform::arrange

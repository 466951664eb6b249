#include "plate/pieces.hpp"

#include <algorithm>
#include <cstddef>
#include <deque>
#include <map>
#include <numeric>
#include <string>
#include <utility>

#include "planform/error.hpp"
#include "planform/occt.hpp"
#include "plate/islands.hpp"

namespace planform::plate {

namespace {

/// Places of bodies in two instances of a part, and sizes, differ by rounding only, relative.
constexpr double rounding = 1e-9;

/// Instances share the kernel's own body and differ by location alone.
const void* shape_key(const Solid& solid) { return shape_of(solid).TShape().get(); }

/// The bodies of one placed part, by index, ascending.
using Bodies = std::vector<int>;

/// How the bodies of a part come apart; bodies by their place in the part.
struct Division {
    struct Plate {
        std::size_t host;
        std::vector<std::size_t> islands;
        std::size_t kind;  ///< where its pieces are collected
    };
    std::vector<Plate> plates;         ///< those with islands
    std::vector<std::size_t> singles;  ///< all other bodies
};

class Divider {
  public:
    Divider(std::span<const Solid> solids, const PlateOptions& options)
        : solids_(solids), options_(options) {}

    std::vector<PieceKind> run();

  private:
    const Solid& solid(int index) const { return solids_[static_cast<std::size_t>(index)]; }
    std::vector<Bodies> parts() const;
    bool are_instances(const Bodies& a, const Bodies& b) const;
    const Division& division_of(const Bodies& bodies);
    Division divide(const Bodies& bodies);
    Verdict& alone(int index);
    void add_single(int index);
    void add_part(const Bodies& bodies);

    std::span<const Solid> solids_;
    const PlateOptions& options_;
    std::map<const void*, Verdict> verdicts_;
    std::map<const void*, std::size_t> kind_of_shape_;
    /// By the first body's shape: the parts that have been divided.
    std::map<const void*, std::deque<std::pair<Bodies, Division>>> divided_;
    std::vector<PieceKind> kinds_;
};

std::vector<Bodies> Divider::parts() const {
    std::map<std::pair<int, std::string>, std::size_t> known;
    std::vector<Bodies> result;
    for (std::size_t i = 0; i < solids_.size(); ++i) {
        const auto [at, is_new] =
            known.emplace(std::pair(solids_[i].part(), solids_[i].part_name()), result.size());
        if (is_new) result.emplace_back();
        result[at->second].push_back(static_cast<int>(i));
    }
    return result;
}

bool Divider::are_instances(const Bodies& a, const Bodies& b) const {
    if (a.size() != b.size()) return false;
    const Transform3 to_a = solid(a.front()).placement().inverse();
    const Transform3 to_b = solid(b.front()).placement().inverse();
    for (std::size_t i = 0; i < a.size(); ++i) {
        const Solid& one = solid(a[i]);
        const Solid& other = solid(b[i]);
        if (shape_key(one) != shape_key(other) || one.color() != other.color() ||
            one.layers() != other.layers())
            return false;
        // Rounding grows with the distance from the origin.
        const double size =
            1.0 + one.placement().translation().norm() + other.placement().translation().norm();
        const Eigen::Matrix4d difference =
            (to_a * one.placement()).matrix() - (to_b * other.placement()).matrix();
        if (difference.cwiseAbs().maxCoeff() > rounding * size) return false;
    }
    return true;
}

Verdict& Divider::alone(int index) {
    const void* key = shape_key(solid(index));
    const auto known = verdicts_.find(key);
    if (known != verdicts_.end()) return known->second;
    return verdicts_.emplace(key, recognise(solid(index), options_)).first->second;
}

bool has_holes(const Verdict& verdict) {
    if (!verdict.plate) return false;
    const std::vector<Profile>& profiles = verdict.plate->outline.profiles();
    return std::any_of(profiles.begin(), profiles.end(),
                       [](const Profile& profile) { return !profile.holes().empty(); });
}

Division Divider::divide(const Bodies& bodies) {
    // The larger body has the hole.
    std::vector<std::size_t> left(bodies.size());
    std::iota(left.begin(), left.end(), std::size_t{0});
    const auto size = [&](std::size_t i) { return solid(bodies[i]).bounds().diagonal().norm(); };
    std::stable_sort(left.begin(), left.end(),
                     [&](std::size_t a, std::size_t b) { return size(a) > size(b); });
    Division division;
    while (!left.empty()) {
        const std::size_t host = left.front();
        left.erase(left.begin());
        Verdict& verdict = alone(bodies[host]);
        std::vector<std::size_t> islands;
        Verdict together = verdict;
        if (!left.empty() && has_holes(verdict)) {
            std::vector<Solid> others;
            for (const std::size_t i : left) others.push_back(solid(bodies[i]));
            try {
                for (const std::size_t i :
                     take_islands(together, solid(bodies[host]), others, options_))
                    islands.push_back(left[i]);
            } catch (const GeometryError& error) {
                // Then each body is a piece of its own: nothing is lost.
                verdict.plate->notes.push_back(
                    std::string("what may lie in its holes is cut apart from it: ") + error.what());
            }
        }
        if (islands.empty()) {
            division.singles.push_back(host);
            continue;
        }
        std::erase_if(left, [&](std::size_t i) {
            return std::find(islands.begin(), islands.end(), i) != islands.end();
        });
        std::sort(islands.begin(), islands.end());
        division.plates.push_back({host, std::move(islands), kinds_.size()});
        kinds_.push_back({{}, std::move(together)});
    }
    return division;
}

const Division& Divider::division_of(const Bodies& bodies) {
    auto& known = divided_[shape_key(solid(bodies.front()))];
    for (const auto& [first, division] : known)
        if (are_instances(first, bodies)) return division;
    return known.emplace_back(bodies, divide(bodies)).second;
}

void Divider::add_single(int index) {
    const auto [at, is_new] = kind_of_shape_.emplace(shape_key(solid(index)), kinds_.size());
    if (is_new) kinds_.push_back({{}, alone(index)});
    kinds_[at->second].pieces.push_back({index, {}, false});
}

void Divider::add_part(const Bodies& bodies) {
    if (bodies.size() == 1) return add_single(bodies.front());
    const Division& division = division_of(bodies);
    for (const Division::Plate& plate : division.plates) {
        Piece piece{bodies[plate.host], {}, plate.islands.size() + 1 == bodies.size()};
        for (const std::size_t i : plate.islands) piece.islands.push_back(bodies[i]);
        kinds_[plate.kind].pieces.push_back(std::move(piece));
    }
    for (const std::size_t i : division.singles) add_single(bodies[i]);
}

std::vector<PieceKind> Divider::run() {
    for (const Bodies& bodies : parts()) add_part(bodies);
    for (PieceKind& kind : kinds_)
        std::sort(kind.pieces.begin(), kind.pieces.end(),
                  [](const Piece& a, const Piece& b) { return a.solid < b.solid; });
    std::sort(kinds_.begin(), kinds_.end(), [](const PieceKind& a, const PieceKind& b) {
        return a.pieces.front().solid < b.pieces.front().solid;
    });
    return std::move(kinds_);
}

}  // namespace

std::vector<PieceKind> pieces_of(std::span<const Solid> solids, const PlateOptions& options) {
    return Divider(solids, options).run();
}

}  // namespace planform::plate

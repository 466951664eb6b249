#include "flatten/proof/section_proof.hpp"

#include <BRepClass3d_SolidClassifier.hxx>
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <memory>
#include <sstream>
#include <utility>

#include "curve/ray_parity.hpp"
#include "flatten/proof/section_witnesses.hpp"
#include "model/kernel/points.hpp"
#include "planform/occt.hpp"

namespace planform::flatten {
namespace {

/// How far from the outline a witness may lie, in tolerances: the outline is one off at most, and
/// vertices may miss their edges by as much.
constexpr double widest = 2.0;
/// A witness that breaks a law is asked about on rings of these radii, in tolerances.
constexpr double rings[] = {4.0, 16.0, 64.0};
/// Places on each ring.
constexpr int on_ring = 16;
/// Most witnesses about which the classifier is asked, which is slow: what the outline lacks is
/// told by the first, and slivers below the resolution have many.
constexpr int most_asked = 12;
/// How many of the places have to contradict the outline: the classifier may err on one.
constexpr int contradictions = 3;

/// A curve of the outline as chords with their parameters, to find what is near.
struct ProofPiece {
    const Curve* curve;
    Box2 box;
    std::vector<std::pair<double, Point2>> places;
};

class OutlinePieces {
  public:
    explicit OutlinePieces(const ProfileSet& set) : tolerance_(set.tolerance()) {
        for (const Profile& profile : set.profiles()) {
            add(profile.outer());
            for (const Contour& hole : profile.holes()) add(hole);
        }
        for (const Mark& mark : set.marks())
            if (mark.is_closed()) add(mark.contour());
    }

    struct Near {
        double distance = std::numeric_limits<double>::infinity();
        bool agrees = false;  ///< some curve within reach has the material on the right side
    };

    /// Within `reach`; a direction of nought agrees with all.
    Near look(const Point2& at, const Vector2& outward, double reach) const {
        Near near;
        for (const ProofPiece& piece : pieces_) {
            if (piece.box.exteriorDistance(at) > reach) continue;
            const double t = nearest(piece, at);
            const double distance = (point_at(*piece.curve, t) - at).norm();
            near.distance = std::min(near.distance, distance);
            if (distance > reach) continue;
            // The material lies on the left.
            const Vector2 along = derivative_at(*piece.curve, t);
            const double side = outward.x() * along.y() - outward.y() * along.x();
            near.agrees = near.agrees || side >= -0.2 * along.norm();
        }
        return near;
    }

    double distance(const Point2& at) const {
        double least = std::numeric_limits<double>::infinity();
        for (const ProofPiece& piece : pieces_) {
            if (piece.box.exteriorDistance(at) >= least) continue;
            least = std::min(least, (point_at(*piece.curve, nearest(piece, at)) - at).norm());
        }
        return least;
    }

    /// On chords within half the tolerance; for places farther than that from the outline.
    bool holds(const Point2& at) {
        if (polygons_.empty())
            for (const Contour* contour : contours_)
                polygons_.push_back(contour->points(0.5 * tolerance_));
        int crossings = 0;
        for (const std::vector<Point2>& polygon : polygons_)
            crossings += detail::ray_crossings(at, polygon);
        return crossings % 2 != 0;
    }

  private:
    void add(const Contour& contour) {
        contours_.push_back(&contour);
        for (const Curve& curve : contour.curves()) {
            ProofPiece piece{&curve, {}, {}};
            const Interval whole = domain(curve);
            int count = 1;
            if (std::holds_alternative<Arc>(curve) || std::holds_alternative<EllipticalArc>(curve))
                count = 32;
            std::vector<double> at;
            if (const auto* spline = std::get_if<Spline>(&curve)) {
                for (const double knot : spline->knots)
                    if (at.empty() || knot > at.back()) at.push_back(knot);
                count = at.size() < 8 ? 16 : 3;
            } else {
                at = {whole.first, whole.last};
            }
            piece.places.emplace_back(at.front(), point_at(curve, at.front()));
            for (std::size_t i = 0; i + 1 < at.size(); ++i)
                for (int k = 1; k <= count; ++k) {
                    const double t = at[i] + (at[i + 1] - at[i]) * k / count;
                    piece.places.emplace_back(t, point_at(curve, t));
                }
            double longest = 0.0;
            for (std::size_t i = 0; i < piece.places.size(); ++i) {
                piece.box.extend(piece.places[i].second);
                if (i > 0)
                    longest = std::max(
                        longest, (piece.places[i].second - piece.places[i - 1].second).norm());
            }
            if (const auto* spline = std::get_if<Spline>(&curve)) {
                for (const Point2& pole : spline->poles) piece.box.extend(pole);
            } else if (count > 1) {
                // Between two places an arc stands out by less than their distance.
                const Vector2 margin = Vector2::Constant(0.5 * longest);
                piece.box = Box2(piece.box.min() - margin, piece.box.max() + margin);
            }
            pieces_.push_back(std::move(piece));
        }
    }

    /// Parameter of the nearest point: of the nearest chord, then by Newton's method.
    static double nearest(const ProofPiece& piece, const Point2& at) {
        double best = piece.places.front().first, least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i + 1 < piece.places.size(); ++i) {
            const auto& [t0, a] = piece.places[i];
            const auto& [t1, b] = piece.places[i + 1];
            const Vector2 way = b - a;
            const double square = way.squaredNorm();
            const double share =
                square > 0.0 ? std::clamp((at - a).dot(way) / square, 0.0, 1.0) : 0.0;
            const double distance = (a + share * way - at).squaredNorm();
            if (distance >= least) continue;
            least = distance;
            best = t0 + share * (t1 - t0);
        }
        if (std::holds_alternative<Line>(*piece.curve)) return best;
        const Interval whole = domain(*piece.curve);
        for (int i = 0; i < 4; ++i) {
            const Vector2 off = point_at(*piece.curve, best) - at;
            const Vector2 along = derivative_at(*piece.curve, best);
            const double square = along.squaredNorm();
            if (!(square > 0.0)) break;
            const double step = off.dot(along) / square;
            best = std::clamp(best - step, whole.first, whole.last);
            if (std::abs(step) * std::sqrt(square) < 1e-9) break;
        }
        return best;
    }

    double tolerance_;
    std::vector<ProofPiece> pieces_;
    std::vector<const Contour*> contours_;
    std::vector<std::vector<Point2>> polygons_;
};

class SectionProof {
  public:
    SectionProof(std::span<const Solid> solids, std::span<const solid::SectionSolid> ready,
                 const Datum& datum, double level, const ProfileSet& set)
        : solids_(solids),
          ready_(ready),
          datum_(datum),
          level_(level),
          tolerance_(set.tolerance()),
          outline_(set) {}

    Proof run() {
        long long edges = 0, faces = 0;
        double largest[2] = {0.0, 0.0};
        int asked = 0;
        for (std::size_t i = 0; i < ready_.size(); ++i) {
            const std::vector<SectionWitness> witnesses = section_witnesses(ready_[i], level_);
            for (const SectionWitness& witness : witnesses) {
                const auto near = outline_.look(witness.at, witness.outward, widest * tolerance_);
                if (near.distance <= widest * tolerance_ && near.agrees) {
                    ++(witness.is_edge ? edges : faces);
                    double& most = largest[witness.is_edge ? 0 : 1];
                    most = std::max(most, near.distance);
                    continue;
                }
                if (witness.uv && !lies_within(ready_[i].surface(witness.face), *witness.uv))
                    continue;  // beyond the face
                if (++asked > most_asked || !contradicts(witness.at)) continue;
                fail(witness.is_edge ? "edges end on the outline" : "faces bound the outline", i,
                     (witness.is_edge ? "edge " : "face ") + std::to_string(witness.entity),
                     witness.at, witness.face);
            }
        }
        Proof proof;
        if (edges > 0) proof.add("edges end on the outline", edges, largest[0]);
        if (faces > 0) proof.add("faces bound the outline", faces, largest[1]);
        return proof;
    }

  private:
    [[noreturn]] void fail(const std::string& law, std::size_t solid, const std::string& entity,
                           const Point2& at, std::size_t face) const {
        std::ostringstream text;
        text << "solid \"" << solids_[solid].name() << "\": " << entity
             << ": its section breaks the law \"" << law << "\" near (" << at.x() << ", " << at.y()
             << "); move the plane a little, or repair the model there";
        throw SectionBreach(text.str(), static_cast<int>(solid), face);
    }

    /// The outline is wrong about what is material beside this place.
    bool contradicts(const Point2& at) {
        for (const double ring : rings) {
            int wrong = 0;
            for (int i = 0; i < on_ring; ++i) {
                const double angle = 2.0 * pi * (i + 0.3) / on_ring;
                const Point2 place =
                    at + ring * tolerance_ * Vector2(std::cos(angle), std::sin(angle));
                if (outline_.distance(place) <= widest * tolerance_) continue;
                const auto material = is_material(place);
                if (material == Material::unknown) continue;
                wrong += (material == Material::inside) != outline_.holds(place);
                if (wrong >= contradictions) return true;
            }
        }
        return false;
    }

    enum class Material { inside, outside, unknown };

    /// What the kernel says of a place in the plane, a tolerance above and below it, too: within a
    /// face in the plane the two sides differ.
    Material is_material(const Point2& place) {
        classifiers_.resize(solids_.size());
        int inside = 0, outside = 0;
        for (const double aside : {-1e-3, 0.0, 1e-3}) {
            const Point3 p = datum_.to_model(place, level_ + aside * tolerance_);
            bool in = false, on = false;
            for (std::size_t i = 0; i < solids_.size(); ++i) {
                // Of most solids of an assembly the box tells: they are elsewhere.
                if (solids_[i].bounds().exteriorDistance(p) > tolerance_) continue;
                auto& classifier = classifiers_[i];
                if (!classifier)
                    classifier =
                        std::make_unique<BRepClass3d_SolidClassifier>(shape_of(solids_[i]));
                classifier->Perform(model::to_kernel_point(p), 1e-4 * tolerance_);
                in = in || classifier->State() == TopAbs_IN;
                on =
                    on || classifier->State() == TopAbs_ON || classifier->State() == TopAbs_UNKNOWN;
            }
            if (in)
                ++inside;
            else if (!on)
                ++outside;
        }
        if (inside == 3) return Material::inside;
        return outside == 3 ? Material::outside : Material::unknown;
    }

    std::span<const Solid> solids_;
    std::span<const solid::SectionSolid> ready_;
    const Datum& datum_;
    double level_;
    double tolerance_;
    OutlinePieces outline_;
    std::vector<std::unique_ptr<BRepClass3d_SolidClassifier>> classifiers_;  ///< made when asked
};

}  // namespace

Proof prove_section(std::span<const Solid> solids, std::span<const solid::SectionSolid> ready,
                    const Datum& datum, double level, const ProfileSet& set) {
    return SectionProof(solids, ready, datum, level, set).run();
}

}  // namespace planform::flatten

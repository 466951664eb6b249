#include "judge.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

namespace corpus {
namespace {

using planform::Point2;
using planform::ProfileSet;
using planform::Vector2;

/// Places beside segments, both sides, `away` mm off: about `most` samples over all segments, at
/// least one on each that is looked at.
template <class Ask>
void beside(const std::vector<Segment>& segments, double away, double most, const Ask& ask) {
    double total = 0.0;
    for (const Segment& segment : segments) total += (segment[1] - segment[0]).norm();
    const double step = std::max(total / most, away);
    const std::size_t stride =
        std::max<std::size_t>(1, segments.size() / static_cast<std::size_t>(most));
    for (std::size_t k = 0; k < segments.size(); k += stride) {
        const Vector2 way = segments[k][1] - segments[k][0];
        const double length = way.norm();
        if (length < 1e-9) continue;
        const Vector2 across = away / length * Vector2(-way.y(), way.x());
        const int count = std::max(1, static_cast<int>(length / step));
        for (int i = 0; i < count; ++i) {
            const Point2 on = segments[k][0] + (i + 0.5) / count * way;
            ask(on + across);
            ask(on - across);
        }
    }
}

constexpr double most_samples = 4000.0;
/// Places are taken this much further off than the limit, so that they can count.
constexpr double clear = 1.15;

/// Keeps the first places of each way in which they are found: the corners of a mesh would crowd
/// out all others.
class Keeper {
  public:
    explicit Keeper(Verdict& verdict) : verdict_(verdict) {}
    void operator()(const Point2& at, bool outline_has, const char* found) {
        constexpr int most = 60;
        if (++counts_[found] <= most) verdict_.disagreements.push_back({at, outline_has, found});
    }

  private:
    Verdict& verdict_;
    std::map<std::string, int> counts_;
};

}  // namespace

Verdict judge_silhouette(const ProfileSet& set, const ProjectedMesh& mesh, const Limits& limits) {
    const Region outline(chords_of(set, limits.chord()));
    const Cover shadow(mesh.triangles);
    Verdict verdict;
    Keeper keep(verdict);
    const auto ask_covered = [&](const Point2& at, const char* found) {
        ++verdict.places;
        if (!outline.holds(at) && !outline.is_near(at, limits.apart)) keep(at, false, found);
    };
    for (const Point2& node : mesh.nodes) ask_covered(node, "node");
    for (const Triangle& t : mesh.triangles)
        ask_covered((t[0] + t[1] + t[2]) / 3.0, "middle of a triangle");
    const auto ask = [&](const Point2& at, const char* found) {
        ++verdict.places;
        const bool holds = outline.holds(at), covered = shadow.holds(at);
        if (holds == covered || outline.is_near(at, limits.apart)) return;
        if (covered || !shadow.is_near(at, limits.apart)) keep(at, holds, found);
    };
    const double away = clear * limits.apart;
    beside(mesh.rims, away, most_samples, [&](const Point2& at) { ask(at, "beside an edge"); });
    beside(outline.segments(), away, most_samples,
           [&](const Point2& at) { ask(at, "beside the outline"); });
    return verdict;
}

Verdict judge_section(const ProfileSet& set, const std::vector<Segment>& segments,
                      const Limits& limits) {
    const Region outline(chords_of(set, limits.chord())), mesh(segments);
    Verdict verdict;
    Keeper keep(verdict);
    const auto ask = [&](const Point2& at, const char* found) {
        ++verdict.places;
        const bool holds = outline.holds(at);
        if (holds == mesh.holds(at) || outline.is_near(at, limits.apart) ||
            mesh.is_near(at, limits.apart))
            return;
        keep(at, holds, found);
    };
    const double away = clear * limits.apart;
    beside(mesh.segments(), away, most_samples,
           [&](const Point2& at) { ask(at, "beside the mesh"); });
    beside(outline.segments(), away, most_samples,
           [&](const Point2& at) { ask(at, "beside the outline"); });
    return verdict;
}

}  // namespace corpus

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "unfold/development.hpp"
#include "unfold/refusals.hpp"

namespace planform::unfolding {

namespace {

/// Of the thickness: how far the two layers of a bend of inside radius 0 may miss each other.
constexpr double sharp_edges_meet = 0.02;
/// A cut is square if its normals lie in the sheet within this, rad: what it is off over the
/// thickness is less than files round.
constexpr double square_within = 1e-6;

class PanelMaker {
  public:
    explicit PanelMaker(Development& development) : d_(development), body_(development.body) {}

    void run(int upper, int source, int root_face) {
        d_.panel_of_face.assign(body_.face_count(), -1);
        for (std::size_t i = 0; i < body_.face_count(); ++i) {
            const int face = static_cast<int>(i);
            const bool is_outer_behind = d_.skin.side[i] != source && d_.skin.side[i] != 0 &&
                                         d_.skin.is_outer_of_sharp_edge(face);
            if (d_.skin.side[i] != source && !is_outer_behind) continue;
            d_.panel_of_face[i] = static_cast<int>(d_.panels.size());
            d_.panels.emplace_back(face, body_.sheet(face), d_.skin.side[i] == upper,
                                   d_.skin.thickness);
        }
        d_.turn_of_panel.assign(d_.panels.size(), -1);
        d_.root = d_.panel_of_face[static_cast<std::size_t>(root_face)];
        for (std::size_t i = 0; i < d_.panels.size(); ++i) {
            d_.first_side.push_back(d_.sides.size());
            add_sides(static_cast<int>(i));
        }
        d_.first_side.push_back(d_.sides.size());
        join_along_edges();
        join_about_sharp_edges();
    }

  private:
    void add_sides(int panel);
    void chain(int panel, std::size_t first);
    bool is_slanted(const Side& side) const;
    void join_along_edges();
    void join_about_sharp_edges();
    void join(int first, int second) {
        d_.side(first).twin = second;
        d_.side(second).twin = first;
    }

    Development& d_;
    const SheetBody& body_;
};

void PanelMaker::add_sides(int index) {
    const Panel& panel = d_.panel(index);
    const solid::GraphFace& face = body_.face(panel.face());
    const std::size_t first = d_.sides.size();
    for (std::size_t k = 0; k < face.uses.size(); ++k) {
        const solid::EdgeUse& use = face.uses[k];
        if (body_.edge(use.edge).degenerate()) {
            refuse(NotUnfolded::not_developable,
                   face_words(body_, {panel.face()}) + " runs into a point, where no sheet bends",
                   body_, {panel.face()});
        }
        Side side;
        side.panel = index;
        side.edge = use.edge;
        side.use = {panel.face(), static_cast<int>(k)};
        // Seen from the side that is up the boundary of a face that looks down runs backwards.
        side.along = use.along == ((face.outward > 0) == panel.is_upper());
        side.start = panel.in_middle(body_.point(use.edge, side.along ? 0.0 : 1.0));
        side.end = panel.in_middle(body_.point(use.edge, side.along ? 1.0 : 0.0));
        const int beyond = body_.beyond(use.edge, panel.face());
        if (beyond >= 0 && d_.skin.side[static_cast<std::size_t>(beyond)] == 0) side.rim = beyond;
        side.slanted = side.rim >= 0 && is_slanted(side);
        d_.sides.push_back(std::move(side));
    }
    chain(index, first);
}

/// Which side follows which: by their vertices; where a boundary meets itself in a vertex, the
/// first that is left.
void PanelMaker::chain(int panel, std::size_t first) {
    const auto vertex = [this](const Side& side, bool at_start) {
        const solid::GraphEdge& edge = body_.edge(side.edge);
        return side.along == at_start ? edge.start_vertex : edge.end_vertex;
    };
    std::vector<bool> taken(d_.sides.size() - first, false);
    for (std::size_t i = first; i < d_.sides.size(); ++i) {
        int best = -1;
        // Order of the wire first: the next one in the list, then the others.
        const std::size_t count = d_.sides.size() - first;
        for (std::size_t step = 1; step <= count && best < 0; ++step) {
            const std::size_t k = first + (i - first + step) % count;
            if (!taken[k - first] && vertex(d_.sides[k], true) == vertex(d_.sides[i], false))
                best = static_cast<int>(k);
        }
        if (best < 0)
            refuse(NotUnfolded::not_measured,
                   "the boundary of " + face_words(body_, {d_.panel(panel).face()}) +
                       " does not close; repair the solid where it was drawn",
                   body_, {d_.panel(panel).face()});
        taken[static_cast<std::size_t>(best) - first] = true;
        d_.sides[i].next = best;
    }
}

bool PanelMaker::is_slanted(const Side& side) const {
    const Panel& panel = d_.panel(side.panel);
    const FaceUse rim = body_.use_of(side.edge, side.rim);
    if (!panel.is_curved() && body_.sheet(side.rim).kind == SurfaceKind::plane)
        return std::abs(body_.sheet(side.rim).axis.dot(panel.axis())) > square_within;
    for (const double share : {0.02, 0.25, 0.5, 0.75, 0.98}) {
        const double t = body_.parameter(side.edge, share);
        const Vector3 up = panel.up_at(body_.form(side.edge).point(t));
        if (std::abs(body_.normal_at(rim, t).dot(up)) > square_within) return true;
    }
    return false;
}

void PanelMaker::join_along_edges() {
    // By edge: the sides that run along it, if there are two.
    std::vector<std::array<int, 2>> by_edge(body_.graph.edges.size(), {-1, -1});
    for (std::size_t i = 0; i < d_.sides.size(); ++i) {
        auto& sides = by_edge[static_cast<std::size_t>(d_.sides[i].edge)];
        (sides[0] < 0 ? sides[0] : sides[1]) = static_cast<int>(i);
    }
    for (std::size_t e = 0; e < by_edge.size(); ++e) {
        const auto& sides = by_edge[e];
        const int edge = static_cast<int>(e);
        if (sides[1] < 0) continue;
        const Side& first = d_.side(sides[0]);
        const Side& second = d_.side(sides[1]);
        if (first.panel == second.panel) {
            if (d_.panel(first.panel).is_curved())
                refuse(NotUnfolded::closed_ring,
                       face_words(body_, {d_.panel(first.panel).face()}) +
                           " closes to a full turn; cut the tube open along a line to unfold it",
                       body_, {d_.panel(first.panel).face()});
            continue;
        }
        // Two walls that meet in a sharp inner edge have a bend between them.
        if (d_.skin.outer_of_sharp_edge.count(edge) > 0) continue;
        join(sides[0], sides[1]);
    }
}

void PanelMaker::join_about_sharp_edges() {
    const double within = sharp_edges_meet * d_.skin.thickness;
    for (std::size_t i = 0; i < d_.sides.size(); ++i) {
        const auto found = d_.skin.outer_of_sharp_edge.find(d_.sides[i].edge);
        if (found == d_.skin.outer_of_sharp_edge.end()) continue;
        const int outer = d_.panel_of_face[static_cast<std::size_t>(found->second)];
        int best = -1;
        for (std::size_t k = 0; k < d_.sides.size() && outer >= 0; ++k)
            if (d_.sides[k].panel == outer && d_.sides[k].twin < 0 && d_.sides[k].rim < 0 &&
                (d_.sides[k].start - d_.sides[i].end).norm() < within &&
                (d_.sides[k].end - d_.sides[i].start).norm() < within)
                best = static_cast<int>(k);
        if (best < 0)
            refuse(NotUnfolded::not_one_thickness,
                   "the sharp inner edge of a bend and the cylinder about it end at different "
                   "places",
                   body_, {d_.panel(d_.sides[i].panel).face(), found->second});
        join(static_cast<int>(i), best);
    }
}

}  // namespace

double Development::fit_tolerance() const {
    /// Far below what is asked for, so that developed curves add nothing to what the model has; not
    /// below the rounding of coordinates.
    constexpr double share = 1e-4;
    return std::max(share * tolerance, 1e-12 * body.size);
}

void make_panels(Development& development, int upper, int source, int root_face) {
    PanelMaker(development).run(upper, source, root_face);
}

}  // namespace planform::unfolding

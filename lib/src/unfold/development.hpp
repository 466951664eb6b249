#pragma once

/// The panels of a sheet with their boundaries, laid flat beside each other.

#include <optional>
#include <span>
#include <vector>

#include "planform/curve.hpp"
#include "planform/unfold.hpp"
#include "unfold/panel.hpp"
#include "unfold/sheet_body.hpp"
#include "unfold/skin.hpp"

namespace planform::unfolding {

/// A stretch of a panel's boundary, in the direction in which the material lies to its left, seen
/// from above.
struct Side {
    int panel = -1;
    int edge = -1;
    FaceUse use{-1, -1};
    bool along = true;          ///< in the direction of the edge's curve
    int next = -1;              ///< the one after it in the loop
    int twin = -1;              ///< the side of another panel that it is joined to; -1: it is cut
    int rim = -1;               ///< face of the cut, -1 if there is none
    bool slanted = false;       ///< the cut does not stand square on the sheet
    Point3 start, end;          ///< in the middle layer
    std::vector<Curve> curves;  ///< in the panel's flat coordinates
};

/// Panels on one cylinder or cone that go on as each other.
struct Turn {
    std::vector<int> panels;
    std::vector<double> offsets;     ///< by panel: what its angles lie ahead of the first one's
    std::vector<double> senses;      ///< by panel: -1 if its axis runs against that of the first
    double first = 0.0, last = 0.0;  ///< angles of its ends about the axis, in those of the first
    double least_along = 0.0, most_along = 0.0;  ///< see Panel::along
    int joined_ends = 0;                         ///< at how many of its two ends other panels go on
    double angle = 0.0;                          ///< by which the sheet is bent
    double inside_radius = 0.0;
    double allowance = 0.0;
    double neutral_depth = 0.0;  ///< mm from the inside

    BendKind kind(const Panel& panel) const;
    double middle() const { return 0.5 * (first + last); }
    /// The angle of a place of its i-th panel, in those of the first.
    double angle_of(std::size_t i, const Panel& panel, const Point3& place) const {
        return offsets[i] + senses[i] * panel.angle(place);
    }
};

struct Development {
    const SheetBody& body;
    const Skin& skin;
    double tolerance;
    std::vector<Panel> panels;
    std::vector<int> panel_of_face;       ///< -1: the face is none
    std::vector<Side> sides;              ///< by panel
    std::vector<std::size_t> first_side;  ///< by panel, and one past the last
    std::vector<Turn> turns;
    std::vector<int> turn_of_panel;  ///< -1: a wall
    int root = -1;

    Panel& panel(int index) { return panels[static_cast<std::size_t>(index)]; }
    const Panel& panel(int index) const { return panels[static_cast<std::size_t>(index)]; }
    Side& side(int index) { return sides[static_cast<std::size_t>(index)]; }
    const Side& side(int index) const { return sides[static_cast<std::size_t>(index)]; }
    std::span<const Side> sides_of(int panel) const {
        const auto at = static_cast<std::size_t>(panel);
        return std::span(sides).subspan(first_side[at], first_side[at + 1] - first_side[at]);
    }
    const Turn* turn_of(int panel) const {
        const int turn = turn_of_panel[static_cast<std::size_t>(panel)];
        return turn < 0 ? nullptr : &turns[static_cast<std::size_t>(turn)];
    }
    double fit_tolerance() const;
};

/// Panels with their sides, joined to each other; nothing is laid flat yet. `upper` is the side of
/// the skin that looks at the reader, `source` the one whose faces are taken. Throws Refused.
void make_panels(Development& development, int upper, int source, int root_face);

/// Finds the bends and by the rule how long they are.
void make_turns(Development& development, const BendRule& rule, std::vector<std::string>& notes);

/// The curves of all sides, in flat coordinates of their panels.
void make_curves(Development& development);

/// Lays all panels beside each other, from the root on. Throws Refused for rings.
void place_panels(Development& development);

/// What unfolding stops at.
struct Refused {
    UnfoldRefusal refusal;
};

}  // namespace planform::unfolding

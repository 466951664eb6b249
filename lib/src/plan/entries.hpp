#pragma once

/// Ways from a pierce in waste to a contour, and back into waste.

#include <optional>
#include <vector>

#include "plan/sheet_field.hpp"
#include "plan/start_places.hpp"

namespace planform::planning {

/// Where a contour is cut from, and how the beam gets there.
struct Entry {
    StartPlace place;
    EntryRoom room = EntryRoom::none;
    std::vector<Curve> way;
    double clearance = 0.0;  ///< of the pierce from all contours, mm
};

/// What entries of a sheet have to keep to.
class EntryFinder {
  public:
    /// `sheet`: the outlines of the sheet, or none. Both have to outlive it.
    EntryFinder(const SheetField& field, const SheetField* sheet, const EntryOptions& options)
        : field_(field), sheet_(sheet), options_(options) {}

    /// `avoid`: curves of the contour that nothing is to start on.
    Entry entry(int contour, const std::vector<int>& avoid) const;
    /// From where the cut of a contour ends, going on in `direction`; nothing if there is no room.
    std::vector<Curve> exit(int contour, const StartPlace& end) const;
    /// Do a way and its outer end keep off everything? `way` ends or begins on the contour at
    /// `touching`, the other end is the outer one.
    bool keeps_off(int contour, const Curve& way, bool arrives) const;

  private:
    std::optional<Curve> tried(int contour, const StartPlace& place, EntryShape shape,
                               double length, bool arrives) const;
    bool fits(int contour, const std::vector<StartPlace>& places, EntryShape shape, double length,
              Entry& found) const;
    bool from_middle(int contour, const std::vector<StartPlace>& places, Entry& found) const;
    bool keeps_off_sheet(const Curve& way, const Point2& outer) const;

    const SheetField& field_;
    const SheetField* sheet_;
    EntryOptions options_;
};

/// The widest disc in a hole that holds nothing of what is cut; radius 0 if none was found.
struct Disc {
    Point2 center = Point2::Zero();
    double radius = 0.0;
};
Disc widest_disc(const SheetField& field, int hole);

}  // namespace planform::planning

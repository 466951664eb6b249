#pragma once

/// The order of the cuts of a sheet under the rules.

#include <vector>

#include "plan/sheet_field.hpp"

namespace planform::planning {

/// What is put in order: cuts with where they begin and end, marks among them.
struct OrderedItem {
    Stop stop;
    bool is_mark;
    Box2 box;
};

/// Indices of the items: marks first, then what lies in a contour before the contour.
std::vector<int> order_of(const std::vector<OrderedItem>& items, const PlanOptions& options);

}  // namespace planform::planning

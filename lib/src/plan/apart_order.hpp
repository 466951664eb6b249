#pragma once

/// An order in which cuts that follow each other keep apart: what was just cut cools meanwhile.

#include <vector>

#include "planform/plan.hpp"

namespace planform::planning {

/// What keeps apart, and how far.
struct Apart {
    std::vector<Stop> stops;
    std::vector<Box2> boxes;  ///< of what is cut, one a stop
    int count = 0;            ///< so many cuts after one ...
    double distance = 0.0;    ///< ... none is nearer to it, mm
};

/// By how much two boxes are nearer than they should be, mm.
double shortfall(const Apart& apart, int a, int b);

/// The sum of all shortfalls of an order, mm.
double shortfall_of(const Apart& apart, const std::vector<int>& order);

/// Indices of the stops, none after the one that it lies within: with little shortfall, and of such
/// orders with little travel. The same input gives the same order.
std::vector<int> apart_order(const Apart& apart, const Point2& home);

}  // namespace planform::planning

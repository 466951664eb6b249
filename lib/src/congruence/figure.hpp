#pragma once

/// A stack of outlines as one figure: its contours with their roles, its centre, its angular
/// moments.

#include <complex>
#include <deque>
#include <span>
#include <vector>

#include "congruence/contour_trace.hpp"
#include "planform/profile.hpp"

namespace planform::congruence {

/// Contours are matched with those of the same role only: outer, hole, mark or open mark of one
/// layer.
struct FigureContour {
    int role;
    double area;  ///< mm^2, not negative
    double length;
    Point2 centroid;
    const Contour* contour;  ///< of an open mark: there and back
};

/// Keeps pointers into the profile sets, which have to outlive it.
class Figure {
  public:
    explicit Figure(std::span<const ProfileSet> layers);

    /// Sorted by role, then area.
    const std::vector<FigureContour>& contours() const { return contours_; }
    /// Mean of the contours' centroids, weighted by area.
    const Point2& centre() const { return centre_; }
    /// Greatest distance of a place from the centre, mm.
    double reach() const { return reach_; }
    double area() const { return area_; }      ///< mm^2, all contours added up
    double length() const { return length_; }  ///< mm, likewise

    /// Weighted integrals of z^k over the insides of the contours, z = (x + iy) / reach about the
    /// centre, for k = 1 to `orders` (index k - 1), in mm^2; and how much each changes, at most, if
    /// every contour is shifted by 1 mm.
    struct Moments {
        std::vector<std::complex<double>> values;
        std::vector<double> sensitivity;
    };
    Moments moments(int orders) const;

  private:
    void add(const Contour& contour, int role);
    void add_open(const Mark& mark, int role);

    std::vector<FigureContour> contours_;
    std::deque<Contour> there_and_back_;  ///< kept where they are: contours_ points to them
    Point2 centre_ = Point2::Zero();
    double reach_ = 0.0;
    double area_ = 0.0;
    double length_ = 0.0;
};

}  // namespace planform::congruence

#pragma once

/// Springs: wire swept along a helix.

#include <TopoDS_Shape.hxx>
#include <string>
#include <vector>

namespace corpus {

struct Coil {
    double turns = 5.0;
    double radius = 10.0;      ///< of the helix, mm
    double pitch = 4.0;        ///< mm a turn
    double width = 2.0;        ///< of the wire along the radius: its diameter if it is round, mm
    double height = 2.0;       ///< of the wire along the axis, mm
    bool is_round = true;      ///< else rectangular
    int greatest_degree = 11;  ///< of the swept surfaces
    std::string describe() const;
};

/// The helix about the z axis, turning counter-clockwise as it climbs, from (radius, 0, 0).
/// Null shape if the kernel can't sweep it.
TopoDS_Shape coil_body(const Coil& coil);

/// 1 to 50 turns, round and rectangular wire, surfaces of low and high degree.
std::vector<Coil> coils();

}  // namespace corpus

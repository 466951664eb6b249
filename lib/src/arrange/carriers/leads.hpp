#pragma once

/// Short lines by which chains stay closed where one curve takes the place of another.

#include <map>

#include "arrange/carriers/carriers.hpp"

namespace planform::arrange {

/// What goes over from node to node, added up: where chains go there and back again nothing is
/// left.
class Leads {
  public:
    void add(int from, int to, const Winding& weight, int tag);

    /// Adds a line for each that is left. Where nothing but such lines meets, what comes in goes on
    /// at once to where it goes out.
    void append_to(CarrierSet& set);

  private:
    struct Lead {
        Winding weight;
        int tag;
    };

    void pass_by(int node);

    std::map<int, std::map<int, Lead>> leads_;  ///< by both nodes, each way
};

}  // namespace planform::arrange

#pragma once

/// Bands that reach no further than they have to.

#include <vector>

#include "offset/near_atoms.hpp"
#include "offset/raw_loop.hpp"
#include "offset/separation.hpp"

namespace planform::offset_detail {

/// Cuts bands short where they only cover what others cover, too: where curves lie closer than
/// they are moved, whole bands would cross each other, all with all.
///
/// A place at less than the distance lies in the band of its nearest curve, on the normal of its
/// nearest point. So a band has to reach along each normal only as far as the normal's foot is the
/// nearest point of all outlines; and where some other point is nearer to a place of the normal, it
/// is so for all places further on (the disc about a place through the foot lies within those about
/// the places beyond). Hence, if each place of the parallel curve of a part at some height has
/// something nearer than that, the band of the part need not be higher. Together the bands cover
/// the same as before, and each is part of what it was: the union stays as it is, and its boundary
/// is made of nothing but parallels at the full distance, because a part that is cut short anywhere
/// has something nearer all along.
class ShortBands {
  public:
    /// `outlines`: all curves that are moved by `distance` mm. They must outlive this.
    /// `resolution`: of the arrangement, mm. Corners must be round: others leave places within the
    /// distance of a corner, which are nearest to it, to the bands beside.
    ShortBands(const LoopField& outlines, double distance, double resolution);

    BandedChain of(const std::vector<Element>& chain) const;

    /// Do many curves lie within the distance of some of a chain? One in a few is asked.
    static bool are_worth_it(const LoopField& outlines, double distance,
                             const std::vector<Element>& chain);

  private:
    NearAtoms outlines_;
    double distance_;
    double least_;
};

}  // namespace planform::offset_detail

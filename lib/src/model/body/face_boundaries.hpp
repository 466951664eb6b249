#pragma once

/// The boundaries of a shape's faces in the parameters of their surfaces: read for one view, known
/// to the next.

#include <cstddef>
#include <memory>
#include <mutex>
#include <utility>
#include <vector>

#include "model/kernel/parameter_curve.hpp"
#include "planform/geometry.hpp"

namespace planform::model {

/// The boundary of a face in the parameters of its surface, wherever the face lies.
struct FaceBoundary {
    std::vector<ParameterCurve> curves;                  ///< one a use of the face, in their order
    bool is_unwrapped = false;                           ///< curves were moved by whole periods
    Point2 low = Point2::Zero(), high = Point2::Zero();  ///< the box round them
};

/// What has been read of one distinct shape; all its instances share it, from several threads too.
class FaceBoundaries {
  public:
    /// By face, in the order of the shape's own topology; null for a face that nobody asked for.
    using ByFace = std::vector<std::shared_ptr<const FaceBoundary>>;

    ByFace known() const {
        const std::lock_guard guard(lock_);
        return by_face_;
    }

    void keep(ByFace read) const {
        const std::lock_guard guard(lock_);
        by_face_.resize(read.size());
        for (std::size_t i = 0; i < read.size(); ++i)
            if (!by_face_[i]) by_face_[i] = std::move(read[i]);
    }

  private:
    mutable std::mutex lock_;
    mutable ByFace by_face_;
};

}  // namespace planform::model

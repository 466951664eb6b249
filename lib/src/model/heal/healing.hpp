#pragma once

/// The healing of shapes in the kernel's STEP reader, which is more than half of its time: only
/// where it is needed.

#include "planform/model.hpp"

namespace planform::model {

/// While this lives, what this thread's STEP readers make is healed as told. Solids that pass
/// the checks of sound_solid.hpp get what the file left out (curves in the parameters of curved
/// faces) and their odd faces are healed alone; all else is healed in full by the kernel. Made
/// while the exchange mutex is held, after STEPControl_Controller::Init().
class ShapeHealing {
  public:
    explicit ShapeHealing(Heal as_told);
    ~ShapeHealing();
    ShapeHealing(const ShapeHealing&) = delete;
    ShapeHealing& operator=(const ShapeHealing&) = delete;

    const Healed& healed() const { return healed_; }

  private:
    Healed healed_;
};

}  // namespace planform::model

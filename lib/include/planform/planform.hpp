#pragma once

/// Everything: solids in, cut-ready outlines out. Include a single subject's header for less.

#include "planform/boolean.hpp"
#include "planform/bridges.hpp"
#include "planform/cache.hpp"
#include "planform/congruence.hpp"
#include "planform/curve.hpp"
#include "planform/datum.hpp"
#include "planform/demo.hpp"
#include "planform/drawing.hpp"
#include "planform/error.hpp"
#include "planform/features.hpp"
#include "planform/flatten.hpp"
#include "planform/geometry.hpp"
#include "planform/inspect.hpp"
#include "planform/model.hpp"
#include "planform/plate.hpp"
#include "planform/profile.hpp"
#include "planform/proof.hpp"
#include "planform/tolerance.hpp"
#include "planform/write.hpp"

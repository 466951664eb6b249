#pragma once

/// The meshes of a source's solids, made when they are first asked for.

#include <map>
#include <vector>

#include "mesh.hpp"
#include "referee.hpp"
#include "steps.hpp"

namespace corpus {

class SolidMeshes {
  public:
    explicit SolidMeshes(std::vector<planform::Solid> solids) : solids_(std::move(solids)) {}
    /// Of the solids with the given numbers, together.
    Mesh of(const std::vector<std::size_t>& numbers, double deflection);

  private:
    std::vector<planform::Solid> solids_;
    std::map<double, std::vector<Mesh>> meshes_;  ///< by deflection
};

/// Three times the tolerance of the outline: what the tolerance allows, the mesh's own deflection
/// and as much again. Of large bodies the mesh has to be coarser.
Limits limits_for(const std::vector<planform::Solid>& solids, double tolerance);

/// Turns a ruling into problems.
void add_ruling(const Ruling& ruling, const Verdict& verdict, const std::string& step,
                Outcome& outcome);

}  // namespace corpus

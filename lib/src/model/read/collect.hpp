#pragma once

/// From a shape of any kind to the bodies in it: solids, and closed shells taken as solids.

#include <TopLoc_Location.hxx>
#include <TopoDS_Shape.hxx>
#include <memory>
#include <string>
#include <unordered_map>
#include <vector>

#include "model/body/solid_data.hpp"

namespace planform::model {

/// A solid as used by all its instances: without location, outside outwards, in mm.
struct DistinctSolid {
    TopoDS_Shape original;  ///< What the file holds; keeps its key in the map alive.
    TopoDS_Shape shape;
    int index = 0;
    std::vector<std::string> notes;
    std::shared_ptr<const Mass> mass = std::make_shared<const Mass>();
    std::shared_ptr<const FaceBoundaries> boundaries = std::make_shared<const FaceBoundaries>();
};

/// One body of a shape, with its place.
struct FoundSolid {
    std::shared_ptr<const DistinctSolid> distinct;
    TopLoc_Location location;
    TopoDS_Shape original;  ///< As found, for looking up its name and colour.
};

/// What is not a body and so is left out.
struct LeftOver {
    std::vector<std::string> open_shells;  ///< A description each.
    int empty_bodies = 0;                  ///< Solids and shells without a face.
    int faces = 0;
    int wires_and_edges = 0;
    int vertices = 0;

    bool empty() const {
        return open_shells.empty() && empty_bodies == 0 && faces == 0 && wires_and_edges == 0 &&
               vertices == 0;
    }
    /// E.g. "1 open shell (5 faces, 4 free edges), 2 loose faces".
    std::string describe() const;
};

/// Finds bodies and remembers which distinct shapes it has met: equal shapes under different
/// locations get one index.
class Collector {
  public:
    /// All lengths are multiplied by `factor`.
    explicit Collector(double factor) : factor_(factor) {}

    /// The bodies of `shape` in the order of its tree. `name` says where open shells were found;
    /// may be empty.
    std::vector<FoundSolid> collect(const TopoDS_Shape& shape, const std::string& name);

    const LeftOver& left_over() const { return left_over_; }

  private:
    void visit(const TopoDS_Shape& shape, const std::string& name, std::vector<FoundSolid>& found);
    void take(const TopoDS_Shape& body, std::vector<FoundSolid>& found);
    std::shared_ptr<const DistinctSolid> distinct_of(const TopoDS_Shape& body);

    double factor_;
    LeftOver left_over_;
    std::unordered_map<const void*, std::shared_ptr<const DistinctSolid>> distinct_;
};

/// The location with its shift multiplied by `factor`.
TopLoc_Location scaled(const TopLoc_Location& location, double factor);

/// True if a face reaches to infinity: a surface without edges, as damaged files give.
bool has_unbounded_face(const TopoDS_Shape& shell);

/// Number of edges that bound one face only (seams and collapsed edges are none).
int free_edge_count(const TopoDS_Shape& shell);

/// What the file's tree says about one body.
struct Label {
    std::string name;
    std::vector<std::string> path;
    std::optional<Color> color;
    std::vector<std::string> layers;
    int part = 0;           ///< which placed part of the model the body belongs to
    std::string part_name;  ///< without a number for the body
};

/// Puts a solid of the public API together.
Solid make_solid(const FoundSolid& found, Label label);

/// The model of a shape without names: "solid 1", "solid 2", ... Throws LoadError if there is no
/// body.
Model model_of_shape(const TopoDS_Shape& shape, double factor, std::string unit,
                     const std::string& source, std::vector<std::string> notes);

/// Throws the LoadError for a model in which no body was found.
[[noreturn]] void throw_no_solid(const std::string& source, const LeftOver& left_over);

}  // namespace planform::model

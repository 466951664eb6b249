#pragma once

/// Products of a STEP file and where they are placed, read from its instances and from what the
/// kernel made of them. The kernel's own documents would do the same, but their libraries want
/// those of its viewer.

#include <NCollection_DataMap.hxx>
#include <STEPControl_Reader.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepData_StepModel.hxx>
#include <TopLoc_Location.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS_Shape.hxx>
#include <deque>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "planform/model.hpp"

namespace planform::model {

/// How something is drawn, as far as the file says.
struct Look {
    std::optional<Color> color;
    std::vector<std::string> layers;  ///< sorted, each once
};

/// A product, or an instance of one.
struct Node {
    TopoDS_Shape shape;        ///< of a product without location, of an instance where it is placed
    Node* product = nullptr;   ///< what an instance is of; nothing for a product
    TopLoc_Location location;  ///< of an instance, in the assembly that it is part of
    std::string name;          ///< empty: not known
    Look look;
    bool is_assembly = false;      ///< of a product: made of `instances`
    std::vector<Node*> instances;  ///< in the order of the file
    bool is_used = false;          ///< of a product: it has instances
};

using NodeOfShape = NCollection_DataMap<TopoDS_Shape, Node*, TopTools_ShapeMapHasher>;
using LookOfShape = NCollection_DataMap<TopoDS_Shape, Look, TopTools_ShapeMapHasher>;

/// All products of a file and of those that it refers to. Shapes are keys without their
/// orientation.
struct Products {
    std::deque<Node> nodes;
    std::vector<Node*> top;  ///< products, and instances in no assembly, in the order of the file
    NodeOfShape node_of;
    LookOfShape look_of;                        ///< of bodies and faces in products
    std::map<std::string, Node*> root_of_file;  ///< of files that are referred to
    std::vector<std::string> notes;             ///< what could not be read
    bool units_are_given = false;  ///< the caller says what lengths are in, whatever the files say

    /// The product or instance that is this shape; nothing for what lies inside a product.
    Node* find(const TopoDS_Shape& shape) const;
};

/// UTF-8 of a text of the file.
std::string text_of(const TCollection_AsciiString& text, bool is_utf8);

/// Name of the product, or its identifier where it has none; empty if it has neither.
std::string product_name(const Handle(StepData_StepModel) & model,
                         const Handle(StepBasic_ProductDefinition) & definition);

/// The shape that the kernel made of an instance of the file; null if it made none.
TopoDS_Shape shape_made_of(const STEPControl_Reader& reader,
                           const Handle(Standard_Transient) & instance);

}  // namespace planform::model

#include "model/step/step_products.hpp"

#include <StepBasic_ProductDefinition.hxx>
#include <StepData_StepModel.hxx>
#include <StepShape_ShapeRepresentation.hxx>
#include <TopAbs.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS_Iterator.hxx>

#include "model/step/step_references.hpp"

namespace planform::model {

namespace {

/// All compounds below the shape and what they are made of, without locations.
void add_parts(const TopoDS_Shape& shape, TopTools_MapOfShape& parts) {
    parts.Add(shape.Located({}));
    if (shape.ShapeType() != TopAbs_COMPOUND) return;
    for (TopoDS_Iterator children(shape); children.More(); children.Next()) {
        add_parts(children.Value(), parts);
    }
}

/// The shapes among `parts` that are products or representations of their own: a compound of these
/// is an assembly, one of others is a part of several bodies.
TopTools_MapOfShape shapes_of_products(const STEPControl_Reader& reader,
                                       const TopTools_MapOfShape& parts) {
    TopTools_MapOfShape products;
    const Handle(StepData_StepModel) model = reader.StepModel();
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const Handle(Standard_Transient) entity = model->Value(i);
        if (!entity->IsKind(STANDARD_TYPE(StepBasic_ProductDefinition)) &&
            !entity->IsKind(STANDARD_TYPE(StepShape_ShapeRepresentation))) {
            continue;
        }
        const TopoDS_Shape shape = shape_made_of(reader, entity);
        if (!shape.IsNull() && parts.Contains(shape)) products.Add(shape);
    }
    return products;
}

/// From the shapes of the roots to products and instances.
class Builder {
  public:
    Builder(Products& products, const TopTools_MapOfShape& own, const NodeOfShape& referred)
        : products_(products), own_(own), referred_(referred) {}

    Node& add(const TopoDS_Shape& shape) {
        if (Node* known = products_.find(shape)) return *known;
        if (!shape.Location().IsIdentity()) {
            Node& product = add(shape.Located({}));
            return bound(shape, top(place(product, shape)));
        }
        if (Node* const* root = referred_.Seek(shape)) {
            if (!TopoDS_Iterator(shape).More()) return bound(shape, **root);
        }
        Node& product = top(new_node(shape));
        if (is_assembly(shape)) {
            product.is_assembly = true;
            for (TopoDS_Iterator children(shape); children.More(); children.Next()) {
                const TopoDS_Shape& child = children.Value();
                Node& instance = place(add(child.Located({})), child);
                product.instances.push_back(&instance);
                if (!products_.node_of.IsBound(child)) bound(child, instance);
            }
        } else {
            product.name = TopAbs::ShapeTypeToString(shape.ShapeType());
        }
        return bound(shape, product);
    }

  private:
    bool is_assembly(const TopoDS_Shape& shape) const {
        if (shape.ShapeType() != TopAbs_COMPOUND) return false;
        for (TopoDS_Iterator children(shape); children.More(); children.Next()) {
            if (own_.Contains(children.Value().Located({}))) return true;
        }
        return false;
    }

    Node& new_node(const TopoDS_Shape& shape) {
        Node& node = products_.nodes.emplace_back();
        node.shape = shape;
        return node;
    }

    Node& place(Node& product, const TopoDS_Shape& shape) {
        Node& instance = new_node(shape);
        instance.product = &product;
        instance.location = shape.Location();
        product.is_used = true;
        return instance;
    }

    Node& top(Node& node) {
        products_.top.push_back(&node);
        return node;
    }

    Node& bound(const TopoDS_Shape& shape, Node& node) {
        products_.node_of.Bind(shape, &node);
        return node;
    }

    Products& products_;
    const TopTools_MapOfShape& own_;
    const NodeOfShape& referred_;
};

}  // namespace

void read_products(STEPControl_Reader& reader, const std::filesystem::path& source,
                   Products& products) {
    reader.StepModel()->SetLocalLengthUnit(1.0);  // mm
    reader.ClearShapes();
    const int roots = reader.NbRootsForTransfer();
    for (int i = 1; i <= roots; ++i) reader.TransferOneRoot(i);

    TopTools_MapOfShape parts;
    for (int i = 1; i <= reader.NbShapes(); ++i) add_parts(reader.Shape(i), parts);
    const TopTools_MapOfShape own = shapes_of_products(reader, parts);
    const NodeOfShape referred = read_references(reader, source, parts, products, read_products);
    Builder builder(products, own, referred);
    for (int i = 1; i <= reader.NbShapes(); ++i) builder.add(reader.Shape(i));
    check_parts(reader, source.string(), products);
    read_looks(reader, products);
    read_names(reader, products);
}

}  // namespace planform::model

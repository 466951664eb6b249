#include "model/step/step_tree.hpp"

#include <TopExp_Explorer.hxx>
#include <utility>

namespace planform::model {

namespace {

/// Walks the tree from the products that are in no assembly down and collects the solids on the
/// way.
class Walker {
  public:
    Walker(const Products& products, Collector& collector, double factor)
        : products_(products), collector_(collector), factor_(factor) {}

    std::vector<Solid> run() {
        for (const Node* top : products_.top) {
            if (!top->is_used) visit(*top, {}, {}, {});
        }
        return std::move(solids_);
    }

  private:
    /// `above`: what the assemblies above say.
    void visit(const Node& node, const TopLoc_Location& place, std::vector<std::string> path,
               Look above);
    void take_part(const Node& product, const TopLoc_Location& place,
                   const std::vector<std::string>& path, const std::string& name,
                   const Look& instance, const Look& above);

    /// What the file says of a shape in a product; nothing if it says nothing.
    const Look* look_of(const TopoDS_Shape& shape) const;
    std::optional<Color> color_of_body(const Node& product, const TopoDS_Shape& body) const;
    /// The colour of all faces of the body, if they have one and the same.
    std::optional<Color> color_of_faces(const TopoDS_Shape& body) const;
    std::vector<std::string> layers_of_body(const Node& product, const TopoDS_Shape& body) const;
    /// The layers of all faces of the body, if they lie on the same.
    std::vector<std::string> layers_of_faces(const TopoDS_Shape& body) const;

    const Products& products_;
    Collector& collector_;
    double factor_;
    std::vector<Solid> solids_;
    int parts_ = 0;  ///< placed parts visited
};

void Walker::visit(const Node& node, const TopLoc_Location& place, std::vector<std::string> path,
                   Look above) {
    const bool is_instance = node.product != nullptr;
    const Node& product = is_instance ? *node.product : node;
    const TopLoc_Location product_place = place * node.location;
    const Look instance = is_instance ? node.look : Look();
    const std::string& shown = is_instance && !node.name.empty() ? node.name : product.name;

    if (!product.is_assembly) {
        path.push_back(shown);
        take_part(product, product_place, path, product.name.empty() ? shown : product.name,
                  instance, above);
        return;
    }
    path.push_back(shown.empty() ? "assembly" : shown);
    for (const Look& own : {product.look, instance}) {
        if (own.color) above.color = own.color;
        if (!own.layers.empty()) above.layers = own.layers;
    }
    for (const Node* part : product.instances) visit(*part, product_place, path, above);
}

void Walker::take_part(const Node& product, const TopLoc_Location& place,
                       const std::vector<std::string>& path, const std::string& name,
                       const Look& instance, const Look& above) {
    std::vector<FoundSolid> bodies = collector_.collect(product.shape, name);
    for (size_t i = 0; i < bodies.size(); ++i) {
        Label label{name, path, instance.color, instance.layers, parts_, name};
        const std::string suffix =
            bodies.size() > 1 ? " (" + std::to_string(i + 1) + ")" : std::string();
        const std::string stand_in = "solid " + std::to_string(solids_.size() + 1);
        label.name = label.name.empty() ? stand_in : label.name + suffix;
        label.path.back() = label.path.back().empty() ? stand_in : label.path.back() + suffix;
        if (label.part_name.empty()) label.part_name = stand_in;
        if (!label.color) label.color = color_of_body(product, bodies[i].original);
        if (!label.color) label.color = above.color;
        if (label.layers.empty()) label.layers = layers_of_body(product, bodies[i].original);
        if (label.layers.empty()) label.layers = above.layers;
        bodies[i].location = scaled(place, factor_) * bodies[i].location;
        solids_.push_back(make_solid(bodies[i], std::move(label)));
    }
    ++parts_;
}

const Look* Walker::look_of(const TopoDS_Shape& shape) const {
    if (products_.look_of.IsEmpty()) return nullptr;
    if (const Look* placed = products_.look_of.Seek(shape)) return placed;
    return shape.Location().IsIdentity() ? nullptr : products_.look_of.Seek(shape.Located({}));
}

std::optional<Color> Walker::color_of_body(const Node& product, const TopoDS_Shape& body) const {
    // The more specific wins: the body's own colour, its part's, that of its faces.
    const Look* own = look_of(body);
    if (own != nullptr && own->color) return own->color;
    return product.look.color ? product.look.color : color_of_faces(body);
}

std::optional<Color> Walker::color_of_faces(const TopoDS_Shape& body) const {
    std::optional<Color> common;
    for (TopExp_Explorer faces(body, TopAbs_FACE); faces.More(); faces.Next()) {
        const Look* look = look_of(faces.Current());
        if (look == nullptr || !look->color || (common && *common != *look->color)) {
            return std::nullopt;
        }
        common = look->color;
    }
    return common;
}

std::vector<std::string> Walker::layers_of_body(const Node& product,
                                                const TopoDS_Shape& body) const {
    const Look* own = look_of(body);
    if (own != nullptr && !own->layers.empty()) return own->layers;
    return product.look.layers.empty() ? layers_of_faces(body) : product.look.layers;
}

std::vector<std::string> Walker::layers_of_faces(const TopoDS_Shape& body) const {
    const std::vector<std::string>* common = nullptr;
    for (TopExp_Explorer faces(body, TopAbs_FACE); faces.More(); faces.Next()) {
        const Look* look = look_of(faces.Current());
        if (look == nullptr || (common != nullptr && *common != look->layers)) return {};
        common = &look->layers;
    }
    return common == nullptr ? std::vector<std::string>() : *common;
}

}  // namespace

std::vector<Solid> solids_of(const Products& products, Collector& collector, double factor) {
    return Walker(products, collector, factor).run();
}

}  // namespace planform::model

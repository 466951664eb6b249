#include "model/step/step_tree.hpp"

#include <Quantity_Color.hxx>
#include <TCollection_AsciiString.hxx>
#include <TDF_Label.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TopExp_Explorer.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_LayerTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <algorithm>
#include <utility>

namespace planform::model {

namespace {

std::string text_of(const TCollection_ExtendedString& text) {
    std::string utf8(static_cast<size_t>(text.LengthOfCString()) + 1, '\0');
    char* data = utf8.data();
    const int length = text.ToUTF8CString(data);
    utf8.resize(static_cast<size_t>(length));
    return utf8;
}

std::string name_of(const TDF_Label& label) {
    Handle(TDataStd_Name) name;
    if (!label.FindAttribute(TDataStd_Name::GetID(), name)) return {};
    std::string text = text_of(name->Get());
    // The kernel's own stand-ins for a missing name of an instance: "=>[0:1:1:2]".
    if (text.starts_with("=>[0:")) return {};
    return text;
}

/// What an assembly or an instance says about all that is below it.
struct Look {
    std::optional<Color> color;
    std::vector<std::string> layers;
};

/// Walks the tree from the free shapes down and collects the solids on the way.
class Walker {
  public:
    Walker(const Handle(TDocStd_Document) & document, Collector& collector, double factor)
        : shapes_(XCAFDoc_DocumentTool::ShapeTool(document->Main())),
          colors_(XCAFDoc_DocumentTool::ColorTool(document->Main())),
          layers_(XCAFDoc_DocumentTool::LayerTool(document->Main())),
          collector_(collector),
          factor_(factor) {}

    std::vector<Solid> run() {
        TDF_LabelSequence roots;
        shapes_->GetFreeShapes(roots);
        for (const TDF_Label& root : roots) visit(root, {}, {}, {});
        return std::move(solids_);
    }

  private:
    /// `label`: a product or an instance of one. `above`: what the assemblies above say.
    void visit(const TDF_Label& label, const TopLoc_Location& place, std::vector<std::string> path,
               Look above);
    void take_part(const TDF_Label& product, const TopLoc_Location& place,
                   const std::vector<std::string>& path, const std::string& name,
                   const Look& instance, const Look& above);

    std::optional<Color> color_of(const TDF_Label& label) const;
    std::optional<Color> color_of_body(const TDF_Label& product, const TopoDS_Shape& body) const;
    /// The colour of all faces of the body, if they have one and the same.
    std::optional<Color> color_of_faces(const TDF_Label& product, const TopoDS_Shape& body) const;

    Handle(XCAFDoc_ShapeTool) shapes_;
    std::vector<std::string> layers_of(const TDF_Label& label) const;
    std::vector<std::string> layers_of_body(const TDF_Label& product,
                                            const TopoDS_Shape& body) const;
    /// The layers of all faces of the body, if they lie on the same.
    std::vector<std::string> layers_of_faces(const TDF_Label& product,
                                             const TopoDS_Shape& body) const;

    Handle(XCAFDoc_ColorTool) colors_;
    Handle(XCAFDoc_LayerTool) layers_;
    Collector& collector_;
    double factor_;
    std::vector<Solid> solids_;
    int parts_ = 0;  ///< placed parts visited
};

void Walker::visit(const TDF_Label& label, const TopLoc_Location& place,
                   std::vector<std::string> path, Look above) {
    TDF_Label product = label;
    TopLoc_Location product_place = place;
    std::string instance_name;
    Look instance;
    if (XCAFDoc_ShapeTool::IsReference(label)) {
        XCAFDoc_ShapeTool::GetReferredShape(label, product);
        product_place = place * XCAFDoc_ShapeTool::GetLocation(label);
        instance_name = name_of(label);
        instance = {color_of(label), layers_of(label)};
    }
    const std::string product_name = name_of(product);
    const std::string shown = instance_name.empty() ? product_name : instance_name;

    if (!XCAFDoc_ShapeTool::IsAssembly(product)) {
        path.push_back(shown);
        take_part(product, product_place, path, product_name.empty() ? shown : product_name,
                  instance, above);
        return;
    }
    path.push_back(shown.empty() ? "assembly" : shown);
    for (const Look& own : {Look{color_of(product), layers_of(product)}, instance}) {
        if (own.color) above.color = own.color;
        if (!own.layers.empty()) above.layers = own.layers;
    }
    TDF_LabelSequence components;
    XCAFDoc_ShapeTool::GetComponents(product, components);
    for (const TDF_Label& component : components) visit(component, product_place, path, above);
}

void Walker::take_part(const TDF_Label& product, const TopLoc_Location& place,
                       const std::vector<std::string>& path, const std::string& name,
                       const Look& instance, const Look& above) {
    std::vector<FoundSolid> bodies = collector_.collect(XCAFDoc_ShapeTool::GetShape(product), name);
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

std::optional<Color> Walker::color_of(const TDF_Label& label) const {
    Quantity_Color color;
    if (!colors_->GetColor(label, XCAFDoc_ColorSurf, color) &&
        !colors_->GetColor(label, XCAFDoc_ColorGen, color)) {
        return std::nullopt;
    }
    Color srgb;
    color.Values(srgb[0], srgb[1], srgb[2], Quantity_TOC_sRGB);
    return srgb;
}

std::optional<Color> Walker::color_of_body(const TDF_Label& product,
                                           const TopoDS_Shape& body) const {
    // The more specific wins: the body's own colour, its part's, that of its faces.
    TDF_Label own;
    if (shapes_->FindSubShape(product, body, own)) {
        if (const auto color = color_of(own)) return color;
    }
    if (const auto color = color_of(product)) return color;
    return color_of_faces(product, body);
}

std::optional<Color> Walker::color_of_faces(const TDF_Label& product,
                                            const TopoDS_Shape& body) const {
    std::optional<Color> common;
    for (TopExp_Explorer faces(body, TopAbs_FACE); faces.More(); faces.Next()) {
        TDF_Label label;
        if (!shapes_->FindSubShape(product, faces.Current(), label)) return std::nullopt;
        const auto color = color_of(label);
        if (!color || (common && *common != *color)) return std::nullopt;
        common = color;
    }
    return common;
}

std::vector<std::string> Walker::layers_of(const TDF_Label& label) const {
    TDF_LabelSequence found;
    layers_->GetLayers(label, found);
    std::vector<std::string> names;
    for (const TDF_Label& layer : found) {
        TCollection_ExtendedString name;
        if (layers_->GetLayer(layer, name)) names.push_back(text_of(name));
    }
    std::sort(names.begin(), names.end());
    return names;
}

std::vector<std::string> Walker::layers_of_body(const TDF_Label& product,
                                                const TopoDS_Shape& body) const {
    TDF_Label own;
    if (shapes_->FindSubShape(product, body, own)) {
        if (auto layers = layers_of(own); !layers.empty()) return layers;
    }
    if (auto layers = layers_of(product); !layers.empty()) return layers;
    return layers_of_faces(product, body);
}

std::vector<std::string> Walker::layers_of_faces(const TDF_Label& product,
                                                 const TopoDS_Shape& body) const {
    std::optional<std::vector<std::string>> common;
    for (TopExp_Explorer faces(body, TopAbs_FACE); faces.More(); faces.Next()) {
        TDF_Label label;
        if (!shapes_->FindSubShape(product, faces.Current(), label)) return {};
        std::vector<std::string> layers = layers_of(label);
        if (common && *common != layers) return {};
        common = std::move(layers);
    }
    return common.value_or(std::vector<std::string>());
}

}  // namespace

std::vector<Solid> solids_of_document(const Handle(TDocStd_Document) & document,
                                      Collector& collector, double factor) {
    return Walker(document, collector, factor).run();
}

}  // namespace planform::model

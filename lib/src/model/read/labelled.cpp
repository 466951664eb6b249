/// Shapes that another program holds in memory with names and colours of its own.

#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <TopoDS_Iterator.hxx>

#include "model/kernel/kernel.hpp"
#include "model/kernel/units.hpp"
#include "model/read/collect.hpp"
#include "model/read/memory_stream.hpp"
#include "planform/error.hpp"
#include "planform/memory.hpp"

namespace planform {

namespace {

using model::Label;

constexpr const char* source = "memory";

std::vector<TopoDS_Shape> children_of(std::string_view data) {
    model::MemoryStream stream(data, true);
    TopoDS_Shape all;
    BRepTools::Read(all, stream, BRep_Builder());
    std::vector<TopoDS_Shape> children;
    if (all.IsNull()) return children;
    for (TopoDS_Iterator parts(all); parts.More(); parts.Next()) children.push_back(parts.Value());
    return children;
}

Label label_of(const PartLabel& part, int number, std::size_t body, std::size_t bodies,
               std::size_t solids) {
    Label label;
    label.part = number;
    label.part_name = part.name.empty() ? "solid " + std::to_string(solids + 1) : part.name;
    label.name = label.part_name;
    if (bodies > 1 && !part.name.empty()) label.name += " (" + std::to_string(body + 1) + ")";
    label.path = part.path;
    label.path.push_back(label.name);
    label.color = part.color;
    return label;
}

Model collected(const std::vector<TopoDS_Shape>& children, std::span<const PartLabel> labels,
                const LoadOptions& options) {
    model::Collector collector(model::unitless_factor(options));
    std::vector<Solid> solids;
    for (std::size_t i = 0; i < labels.size(); ++i) {
        const auto bodies = collector.collect(children[i], labels[i].name);
        for (std::size_t body = 0; body < bodies.size(); ++body)
            solids.push_back(model::make_solid(
                bodies[body],
                label_of(labels[i], static_cast<int>(i), body, bodies.size(), solids.size())));
    }
    if (solids.empty()) model::throw_no_solid(source, collector.left_over());
    std::vector<std::string> notes;
    if (!options.unit.empty())
        notes.push_back("shapes in memory carry no unit; lengths are read as " + options.unit);
    if (!collector.left_over().empty())
        notes.push_back("left out, as they are no solids: " + collector.left_over().describe());
    return Model(std::move(solids), "mm (assumed)", source, std::move(notes));
}

}  // namespace

Model from_brep_parts(std::string_view data, std::span<const PartLabel> labels,
                      const LoadOptions& options) {
    model::check(options);
    const model::Silence silence;
    return model::guarded(source, ErrorKind::file_damaged, [&] {
        const std::vector<TopoDS_Shape> children = children_of(data);
        if (children.size() != labels.size())
            throw LoadError(ErrorKind::file_damaged,
                            std::string(source) + ": there are " + std::to_string(children.size()) +
                                " shapes for " + std::to_string(labels.size()) + " labels");
        return collected(children, labels, options);
    });
}

}  // namespace planform

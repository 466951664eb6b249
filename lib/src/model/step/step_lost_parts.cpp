#include <Interface_EntityIterator.hxx>
#include <Interface_Graph.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_MappedItem.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <StepRepr_ProductDefinitionShape.hxx>
#include <StepRepr_Representation.hxx>
#include <StepRepr_RepresentationMap.hxx>
#include <StepRepr_RepresentationRelationshipWithTransformation.hxx>
#include <StepShape_ContextDependentShapeRepresentation.hxx>
#include <StepShape_ShapeDefinitionRepresentation.hxx>
#include <StepShape_SolidModel.hxx>
#include <TopoDS_Iterator.hxx>
#include <XSControl_WorkSession.hxx>
#include <set>

#include "model/step/step_products.hpp"
#include "planform/error.hpp"

namespace planform::model {

namespace {

using Definition = Handle(StepBasic_ProductDefinition);
using Usage = Handle(StepRepr_NextAssemblyUsageOccurrence);
using Representation = Handle(StepRepr_Representation);

class LostParts {
  public:
    LostParts(const STEPControl_Reader& reader, const std::string& source, Products& products)
        : reader_(reader), source_(source), products_(products), graph_(reader.WS()->Graph()) {}

    void run() {
        const Handle(StepData_StepModel) model = reader_.StepModel();
        for (int i = 1; i <= model->NbEntities(); ++i) {
            const auto usage = Usage::DownCast(model->Value(i));
            if (!usage.IsNull() && !stands(usage)) report(usage);
        }
    }

  private:
    bool stands(const Usage& usage) const {
        const TopoDS_Shape shape = shape_made_of(reader_, usage);
        if (!shape.IsNull() && products_.find(shape) != nullptr) return true;
        const Definition part = usage->RelatedProductDefinition();
        const Definition whole = usage->RelatingProductDefinition();
        if (part.IsNull() || whole.IsNull()) return false;
        return is_mapped(part) || is_placed_otherwise(part, whole);
    }

    /// Representations that others hold as mapped items have no instances of their own.
    bool is_mapped(const Definition& part) const {
        for (const Representation& representation : representations(part)) {
            for (auto maps = graph_.Sharings(representation); maps.More(); maps.Next()) {
                if (!maps.Value()->IsKind(STANDARD_TYPE(StepRepr_RepresentationMap))) continue;
                for (auto items = graph_.Sharings(maps.Value()); items.More(); items.Next())
                    if (items.Value()->IsKind(STANDARD_TYPE(StepRepr_MappedItem))) return true;
            }
        }
        return false;
    }

    /// Does the shape of the whole hold that of the part as often as the file says?
    bool is_placed_otherwise(const Definition& part, const Definition& whole) const {
        const TopoDS_Shape own = shape_made_of(reader_, part);
        const TopoDS_Shape around = shape_made_of(reader_, whole);
        if (own.IsNull() || around.IsNull() || products_.find(around) == nullptr) return false;
        int wanted = 0, found = 0;
        for (auto users = graph_.Sharings(part); users.More(); users.Next()) {
            const auto usage = Usage::DownCast(users.Value());
            if (!usage.IsNull() && usage->RelatedProductDefinition() == part &&
                usage->RelatingProductDefinition() == whole)
                ++wanted;
        }
        for (TopoDS_Iterator children(around); children.More(); children.Next())
            if (children.Value().IsPartner(own)) ++found;
        return found >= wanted;
    }

    std::vector<Representation> representations(const Definition& definition) const {
        std::vector<Representation> found;
        for (auto users = graph_.Sharings(definition); users.More(); users.Next()) {
            const auto property = Handle(StepRepr_ProductDefinitionShape)::DownCast(users.Value());
            if (property.IsNull()) continue;
            for (auto links = graph_.Sharings(property); links.More(); links.Next()) {
                const auto link =
                    Handle(StepShape_ShapeDefinitionRepresentation)::DownCast(links.Value());
                if (!link.IsNull() && !link->UsedRepresentation().IsNull())
                    found.push_back(link->UsedRepresentation());
            }
        }
        return found;
    }

    /// The representations that the file places for an instance.
    std::vector<Representation> placed_for(const Usage& usage) const {
        std::set<const Standard_Transient*> around;
        const Definition whole = usage->RelatingProductDefinition();
        if (!whole.IsNull())
            for (const Representation& one : representations(whole)) around.insert(one.get());
        std::vector<Representation> found;
        for (auto users = graph_.Sharings(usage); users.More(); users.Next()) {
            for (auto places = graph_.Sharings(users.Value()); places.More(); places.Next()) {
                const auto place =
                    Handle(StepShape_ContextDependentShapeRepresentation)::DownCast(places.Value());
                if (place.IsNull() || place->RepresentationRelation().IsNull()) continue;
                for (const Representation& one : {place->RepresentationRelation()->Rep1(),
                                                  place->RepresentationRelation()->Rep2()})
                    if (!around.contains(one.get())) found.push_back(one);
            }
        }
        return found;
    }

    /// A solid in what is placed, or in the product or in what it is an assembly of.
    bool has_solid(const Definition& start, std::vector<Representation> waiting) const {
        std::set<const Standard_Transient*> seen;
        std::vector<Definition> definitions{start};
        while (!definitions.empty()) {
            const Definition definition = definitions.back();
            definitions.pop_back();
            if (definition.IsNull() || !seen.insert(definition.get()).second) continue;
            for (const Representation& one : representations(definition)) waiting.push_back(one);
            for (auto users = graph_.Sharings(definition); users.More(); users.Next()) {
                const auto usage = Usage::DownCast(users.Value());
                if (!usage.IsNull() && usage->RelatingProductDefinition() == definition)
                    definitions.push_back(usage->RelatedProductDefinition());
            }
        }
        while (!waiting.empty()) {
            const Representation representation = waiting.back();
            waiting.pop_back();
            if (representation.IsNull() || !seen.insert(representation.get()).second) continue;
            if (holds_solid(representation, waiting)) return true;
            add_same(representation, waiting);
        }
        return false;
    }

    static bool holds_solid(const Representation& representation,
                            std::vector<Representation>& mapped) {
        if (representation->Items().IsNull()) return false;
        for (int i = 1; i <= representation->NbItems(); ++i) {
            const auto item = representation->ItemsValue(i);
            if (item.IsNull()) continue;
            if (item->IsKind(STANDARD_TYPE(StepShape_SolidModel))) return true;
            const auto map = Handle(StepRepr_MappedItem)::DownCast(item);
            if (!map.IsNull() && !map->MappingSource().IsNull())
                mapped.push_back(map->MappingSource()->MappedRepresentation());
        }
        return false;
    }

    /// Others that are the same shape in the same place.
    void add_same(const Representation& representation, std::vector<Representation>& same) const {
        for (auto users = graph_.Sharings(representation); users.More(); users.Next()) {
            const auto relation =
                Handle(StepRepr_ShapeRepresentationRelationship)::DownCast(users.Value());
            if (relation.IsNull() || relation->IsKind(STANDARD_TYPE(
                                         StepRepr_RepresentationRelationshipWithTransformation)))
                continue;
            same.push_back(relation->Rep1());
            same.push_back(relation->Rep2());
        }
    }

    void report(const Usage& usage) {
        const Handle(StepData_StepModel) model = reader_.StepModel();
        const Definition part = usage->RelatedProductDefinition();
        const std::string names = "part '" + product_name(model, part) + "' in '" +
                                  product_name(model, usage->RelatingProductDefinition()) + "'";
        if (has_solid(part, placed_for(usage))) {
            throw LoadError(ErrorKind::file_damaged,
                            source_ + ": the STEP data are damaged: " + names +
                                " has a solid in the file, but not both a shape and a place of its "
                                "own; export the assembly again");
        }
        const std::string note =
            names + " has no shape or no place in the file: export the assembly again";
        if (noted_.insert(note).second) products_.notes.push_back(note);
    }

    const STEPControl_Reader& reader_;
    const std::string& source_;
    Products& products_;
    const Interface_Graph& graph_;
    std::set<std::string> noted_;
};

bool has_assembly(const Handle(StepData_StepModel) & model) {
    for (int i = 1; i <= model->NbEntities(); ++i)
        if (model->Value(i)->IsKind(STANDARD_TYPE(StepRepr_NextAssemblyUsageOccurrence)))
            return true;
    return false;
}

}  // namespace

void check_parts(const STEPControl_Reader& reader, const std::string& source, Products& products) {
    // A file without instances has no graph either.
    if (has_assembly(reader.StepModel())) LostParts(reader, source, products).run();
}

}  // namespace planform::model

#include <STEPCAFControl_Controller.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <STEPControl_Reader.hxx>
#include <StepData_StepModel.hxx>
#include <TDocStd_Document.hxx>
#include <XCAFDoc_DocumentTool.hxx>

#include "model/heal/healing.hpp"
#include "model/kernel/kernel.hpp"
#include "model/kernel/units.hpp"
#include "model/read/collect.hpp"
#include "model/read/formats.hpp"
#include "model/read/memory_stream.hpp"
#include "model/read/setting.hpp"
#include "model/step/step_check.hpp"
#include "model/step/step_tree.hpp"
#include "model/step/step_units.hpp"

namespace planform::model {

namespace {

[[noreturn]] void throw_damaged(const std::string& source, const std::string& why) {
    throw LoadError(ErrorKind::file_damaged,
                    source + ": the STEP data are damaged: " + why +
                        "; copy the file again, or export the model again");
}

void parse(STEPControl_Reader& reader, std::string_view bytes, const std::string& source) {
    MemoryStream stream(bytes, false);
    const IFSelect_ReturnStatus status = reader.ReadStream(source.c_str(), stream);
    if (status != IFSelect_RetDone || reader.StepModel().IsNull()) {
        throw_damaged(source, "they don't follow ISO 10303-21");
    }
}

Handle(TDocStd_Document) transfer(STEPCAFControl_Reader& reader) {
    Handle(TDocStd_Document) document = new TDocStd_Document("BinXCAF");
    XCAFDoc_DocumentTool::SetLengthUnit(document, 1.0, UnitsMethods_LengthUnit_Millimeter);
    reader.Transfer(document);
    return document;
}

}  // namespace

Model read_step(std::string_view bytes, const std::string& source, const LoadOptions& options) {
    bytes.remove_prefix(bytes.find("ISO-10303-21"));
    check_exchange_structure(bytes, source);
    const std::lock_guard lock(exchange_mutex());
    const Silence silence;
    return guarded(source, ErrorKind::kernel_failure, [&] {
        STEPCAFControl_Controller::Init();  // registers the settings, which a new reader copies
        const Setting unit("xstep.cascade.unit", "MM");
        const ShapeHealing healing(options.heal);
        STEPCAFControl_Reader reader;
        reader.SetNameMode(Standard_True);
        reader.SetColorMode(Standard_True);
        reader.SetLayerMode(Standard_True);
        parse(reader.ChangeReader(), bytes, source);

        const Handle(StepData_StepModel) step = reader.Reader().StepModel();
        const std::string units = length_units(step);
        std::vector<std::string> notes = check_instances(reader.Reader(), source);
        double factor = options.scale;
        if (!options.unit.empty()) {
            replace_length_units_by_mm(step);
            factor *= unit_factor(options.unit);
            notes.push_back("the file's unit is " + units + "; lengths are read as " +
                            options.unit + " instead");
        }
        const Handle(TDocStd_Document) document = transfer(reader);
        check_transfer(reader.Reader(), source);
        Collector collector(factor);
        std::vector<Solid> solids = solids_of_document(document, collector, factor);
        if (solids.empty()) throw_no_solid(source, collector.left_over());
        if (!collector.left_over().empty()) {
            notes.push_back("left out, as they are no solids: " + collector.left_over().describe());
        }
        return Model(std::move(solids), units, source, std::move(notes), healing.healed());
    });
}

}  // namespace planform::model

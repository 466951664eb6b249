#include <STEPControl_Controller.hxx>
#include <STEPControl_Reader.hxx>
#include <StepData_StepModel.hxx>

#include "model/heal/healing.hpp"
#include "model/kernel/kernel.hpp"
#include "model/kernel/units.hpp"
#include "model/read/collect.hpp"
#include "model/read/formats.hpp"
#include "model/read/setting.hpp"
#include "model/step/step_check.hpp"
#include "model/step/step_products.hpp"
#include "model/step/step_references.hpp"
#include "model/step/step_tree.hpp"
#include "model/step/step_units.hpp"

namespace planform::model {

Model read_step(std::string_view bytes, const std::string& source, const LoadOptions& options) {
    bytes = exchange_structure(bytes);
    check_exchange_structure(bytes, source);
    const std::lock_guard lock(exchange_mutex());
    const Silence silence;
    return guarded(source, ErrorKind::kernel_failure, [&] {
        STEPControl_Controller::Init();  // registers the settings, which a new reader copies
        const Setting unit("xstep.cascade.unit", "MM");
        const ShapeHealing healing(options.heal);
        STEPControl_Reader reader;
        parse_step(reader, bytes, source);

        const Handle(StepData_StepModel) step = reader.StepModel();
        const std::string units = length_units(step);
        std::vector<std::string> notes = check_instances(reader, source);
        Products products;
        double factor = options.scale;
        if (!options.unit.empty()) {
            products.units_are_given = true;
            replace_length_units_by_mm(step);
            factor *= unit_factor(options.unit);
            notes.push_back("the file's unit is " + units + "; lengths are read as " +
                            options.unit + " instead");
        }
        read_products(reader, source, products);
        check_transfer(reader, source);
        notes.insert(notes.end(), products.notes.begin(), products.notes.end());
        Collector collector(factor);
        std::vector<Solid> solids = solids_of(products, collector, factor);
        if (solids.empty()) throw_no_solid(source, collector.left_over());
        if (!collector.left_over().empty()) {
            notes.push_back("left out, as they are no solids: " + collector.left_over().describe());
        }
        return Model(std::move(solids), units, source, std::move(notes), healing.healed());
    });
}

}  // namespace planform::model

#include <APIHeaderSection_MakeHeader.hxx>
#include <STEPControl_Controller.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Failure.hxx>
#include <StepData_StepModel.hxx>
#include <StepRepr_NextAssemblyUsageOccurrence.hxx>
#include <TCollection_HAsciiString.hxx>
#include <random>
#include <system_error>

#include "demo/assembly.hpp"
#include "demo/step_assembly.hpp"
#include "demo/step_colors.hpp"
#include "model/kernel/kernel.hpp"
#include "model/read/setting.hpp"
#include "planform/demo.hpp"
#include "planform/error.hpp"

namespace planform {

namespace {

[[noreturn]] void throw_unwritable(const std::filesystem::path& path, const std::string& why) {
    throw WriteError(ErrorKind::file_unwritable,
                     path.string() + ": the demo can't be written: " + why +
                         "; name a file in a folder that exists and may be written to");
}

/// A new name in the folder of `path`, so that a rename to `path` stays on one disk.
std::filesystem::path temporary_beside(const std::filesystem::path& path) {
    std::random_device device;
    std::filesystem::path temporary = path;
    temporary += std::string(".").append(std::to_string(device())).append(".tmp");
    return temporary;
}

/// A file that is removed unless it has been moved to its last name.
class TemporaryFile {
  public:
    explicit TemporaryFile(const std::filesystem::path& path)
        : path_(path), temporary_(temporary_beside(path)) {}
    ~TemporaryFile() {
        std::error_code ignored;
        std::filesystem::remove(temporary_, ignored);
    }
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;

    const std::filesystem::path& name() const { return temporary_; }

    void finish() {
        std::error_code error;
        std::filesystem::rename(temporary_, path_, error);
        if (error) throw_unwritable(path_, error.message());
    }

  private:
    std::filesystem::path path_;
    std::filesystem::path temporary_;
};

/// The kernel numbers instances through the life of the process; here they are numbered in the
/// file.
void number_instances(const Handle(StepData_StepModel) & model) {
    int number = 0;
    for (int i = 1; i <= model->NbEntities(); ++i) {
        const auto usage = Handle(StepRepr_NextAssemblyUsageOccurrence)::DownCast(model->Value(i));
        if (usage.IsNull()) continue;
        usage->SetId(new TCollection_HAsciiString(std::to_string(++number).c_str()));
    }
}

/// The header without the time of writing, so that the same input gives the same bytes.
void set_header(const Handle(StepData_StepModel) & model) {
    const auto text = [](const char* value) { return new TCollection_HAsciiString(value); };
    APIHeaderSection_MakeHeader header(model);
    header.SetName(text("bird-feeding station"));
    header.SetTimeStamp(text("2000-01-01T00:00:00"));
    header.SetAuthorValue(1, text("planform"));
    header.SetOriginatingSystem(text("planform"));
}

void write_step(const std::filesystem::path& file, const std::filesystem::path& shown) {
    const std::lock_guard lock(model::exchange_mutex());
    const model::Silence silence;
    STEPControl_Controller::Init();  // registers the settings, which a new writer copies
    const model::Setting unit("write.step.unit", "MM");
    const model::Setting schema("write.step.schema", "AP214IS");
    // Curves in the parameter space of planes and cylinders follow from the others.
    const model::Setting parameter_curves("write.surfacecurve.mode", "Off");
    const demo::Station station = demo::station();
    STEPControl_Writer writer;
    if (!demo::transfer(station, writer)) {
        throw WriteError(ErrorKind::kernel_failure,
                         shown.string() +
                             ": the kernel can't turn the demo into STEP; check the "
                             "installation of Open CASCADE");
    }
    const Handle(StepData_StepModel) step = writer.Model();
    number_instances(step);
    demo::add_colors(step, station.color_of_part);
    set_header(step);
    if (writer.Write(file.c_str()) != IFSelect_RetDone) {
        throw_unwritable(shown, "the folder or the disk refuses it");
    }
}

}  // namespace

void write_demo_assembly(const std::filesystem::path& path) {
    std::error_code error;
    if (path.filename().empty() || std::filesystem::is_directory(path, error)) {
        throw_unwritable(path, "it names a folder");
    }
    TemporaryFile file(path);
    try {
        write_step(file.name(), path);
    } catch (const Standard_Failure& failure) {
        throw WriteError(ErrorKind::kernel_failure,
                         path.string() + ": the kernel gave up (" +
                             model::describe_failure(failure) +
                             "); check the installation of Open CASCADE");
    }
    file.finish();
}

}  // namespace planform

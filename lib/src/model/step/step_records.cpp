#include "model/step/step_records.hpp"

#include <Standard_Version.hxx>
#include <StepData_Protocol.hxx>
#include <StepData_StepModel.hxx>
#include <StepData_StepReaderData.hxx>
#include <StepData_StepReaderTool.hxx>

#include "model/step/step_scanner.hpp"

// The tables of this version have been compared with those of the kernel's own scanner; other
// versions go on with theirs.
#define PLANFORM_SCANS_STEP (OCC_VERSION_HEX >= 0x070600 && OCC_VERSION_HEX < 0x070700)

namespace planform::model {

namespace {

#if PLANFORM_SCANS_STEP
Handle(StepData_StepReaderData) tables(const RecordScanner& file, const StepData_StepModel& model) {
    const std::vector<FileRecord>& records = file.records();
    Handle(StepData_StepReaderData) data = new StepData_StepReaderData(
        static_cast<int>(file.header_records()), static_cast<int>(records.size()),
        static_cast<int>(file.parameters().size()), model.SourceCodePage());
    std::size_t parameter = 0;
    for (std::size_t i = 0; i < records.size(); ++i) {
        const FileRecord& record = records[i];
        const int number = static_cast<int>(i) + 1;
        data->SetRecord(number, record.name, record.type, parameter < record.end ? 1 : 0);
        for (; parameter < record.end; ++parameter) {
            const RecordParameter& one = file.parameters()[parameter];
            data->AddStepParam(number, one.text, one.type);
        }
        data->InitParams(number);
    }
    return data;
}
#endif

}  // namespace

Standard_Integer RecordLibrary::ReadStream(const Standard_CString name, std::istream& stream,
                                           Handle(Interface_InterfaceModel) & model,
                                           const Handle(Interface_Protocol) & protocol) const {
#if PLANFORM_SCANS_STEP
    const auto step = Handle(StepData_Protocol)::DownCast(protocol);
    RecordScanner file(bytes_);
    if (!step.IsNull() && file.run()) {
        Handle(StepData_StepModel) read = new StepData_StepModel;
        StepData_StepReaderTool tool(tables(file, *read), step);
        tool.SetErrorHandle(Standard_True);
        tool.PrepareHeader(Handle(StepData_FileRecognizer)());
        tool.Prepare(Handle(StepData_FileRecognizer)());
        tool.LoadModel(read);
        if (read->Protocol().IsNull()) read->SetProtocol(step);
        tool.Clear();
        model = read;
        return 0;
    }
#endif
    return StepSelect_WorkLibrary::ReadStream(name, stream, model, protocol);
}

}  // namespace planform::model

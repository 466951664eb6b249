#pragma once

/// The records of a STEP file (ISO 10303-21) as the kernel's reader wants them. The kernel's own
/// scanner takes a quarter of the time that reading takes; its tables are the same.

#include <StepSelect_WorkLibrary.hxx>
#include <string_view>

namespace planform::model {

/// Reads the given bytes, whatever stream it is handed. What the scanner here does not know
/// (scopes, several sections of data, errors) goes to the kernel's.
class RecordLibrary : public StepSelect_WorkLibrary {
  public:
    /// `bytes` from where the structure starts; they have to outlive the reading.
    explicit RecordLibrary(std::string_view bytes) : bytes_(bytes) {}

    Standard_Integer ReadStream(const Standard_CString name, std::istream& stream,
                                Handle(Interface_InterfaceModel) & model,
                                const Handle(Interface_Protocol) & protocol) const override;

  private:
    std::string_view bytes_;
};

}  // namespace planform::model

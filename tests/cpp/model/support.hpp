#pragma once

/// Files for the tests of the model floor: written by the kernel's own writers, or by hand.

#include <TDF_Label.hxx>
#include <TDocStd_Document.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS_Shape.hxx>
#include <XCAFDoc_ColorTool.hxx>
#include <XCAFDoc_LayerTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "planform/error.hpp"
#include "planform/model.hpp"

namespace planform::test {

/// A folder of its own for a test, removed at its end.
class TemporaryFolder {
  public:
    TemporaryFolder();
    ~TemporaryFolder();
    TemporaryFolder(const TemporaryFolder&) = delete;
    TemporaryFolder& operator=(const TemporaryFolder&) = delete;

    std::filesystem::path operator/(const std::string& name) const { return path_ / name; }
    const std::filesystem::path& path() const { return path_; }

  private:
    std::filesystem::path path_;
};

void write_bytes(const std::filesystem::path& path, std::string_view bytes);
std::string read_bytes(const std::filesystem::path& path);
std::string gzip(std::string_view bytes);
/// `text` with the first (or, from the back, last) occurrence of `old_part` replaced; fails the
/// test if there is none.
std::string replaced(std::string text, const std::string& old_part, const std::string& new_part,
                     bool from_back = false);

/// Builds an assembly in the kernel's document and writes it as STEP.
class Assembly {
  public:
    Assembly();
    TDF_Label group(const std::string& name);
    TDF_Label part(const std::string& name, const TopoDS_Shape& shape);
    TDF_Label place(const TDF_Label& in, const TDF_Label& what, const TopLoc_Location& where = {},
                    const std::string& name = {});
    void color(const TDF_Label& label, const Color& srgb);
    /// Puts it on one layer more.
    void layer(const TDF_Label& label, const std::string& name);
    /// The label of a face or solid of a part, for a colour of its own.
    TDF_Label sub_shape(const TDF_Label& part, const TopoDS_Shape& shape);
    /// `unit`: MM, INCH, M, ...; `schema`: AP203, AP214IS, AP242DIS.
    void write(const std::filesystem::path& path, const std::string& unit = "MM",
               const std::string& schema = "AP214IS");
    /// Each part into a file of its own beside `path`.
    void write_in_files(const std::filesystem::path& path);

  private:
    Handle(TDocStd_Document) document_;
    Handle(XCAFDoc_ShapeTool) shapes_;
    Handle(XCAFDoc_ColorTool) colors_;
    Handle(XCAFDoc_LayerTool) layers_;
};

void write_step(const TopoDS_Shape& shape, const std::filesystem::path& path,
                const std::string& unit = "MM");
std::string brep_text(const TopoDS_Shape& shape);
std::string brep_binary(const TopoDS_Shape& shape);
/// The body from memory (0), through BREP (1) or through STEP (2).
Model read_back(const TopoDS_Shape& shape, int way, const TemporaryFolder& folder);

TopoDS_Shape box(double x, double y, double z);
TopoDS_Shape compound(const std::vector<TopoDS_Shape>& shapes);
TopLoc_Location shifted(double x, double y, double z);
/// Turned by `angle` (radians) about a slanted axis, then shifted: a general position.
TopLoc_Location general_position(double angle, double x, double y, double z);
/// The shell of a box, without the given number of its faces.
TopoDS_Shape box_shell(double size, int missing_faces);

/// The error that load() of this path throws; nothing if it loads.
std::optional<LoadError> load_error(const std::filesystem::path& path,
                                    const LoadOptions& options = {});

}  // namespace planform::test

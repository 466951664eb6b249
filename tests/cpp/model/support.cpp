#include "model/support.hpp"

#include <doctest/doctest.h>
#include <zlib.h>

#include <BRepBuilderAPI_MakeSolid.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <BinTools.hxx>
#include <Quantity_Color.hxx>
#include <STEPCAFControl_Controller.hxx>
#include <STEPCAFControl_Writer.hxx>
#include <STEPControl_Writer.hxx>
#include <Standard_Version.hxx>
#include <StepData_StepModel.hxx>
#include <TDataStd_Name.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Shell.hxx>
#include <UnitsMethods.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <fstream>
#include <gp_Ax1.hxx>
#include <random>
#include <sstream>
#include <vector>

#include "model/kernel/kernel.hpp"
#include "model/read/setting.hpp"
#include "planform/occt.hpp"

namespace planform::test {

TemporaryFolder::TemporaryFolder() {
    std::random_device device;
    path_ = std::filesystem::temp_directory_path() /
            ("planform-model-" + std::to_string(device()) + std::to_string(device()));
    std::filesystem::create_directories(path_);
}

TemporaryFolder::~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

void write_bytes(const std::filesystem::path& path, std::string_view bytes) {
    std::ofstream(path, std::ios::binary).write(bytes.data(), static_cast<long>(bytes.size()));
}

std::string read_bytes(const std::filesystem::path& path) {
    std::ifstream stream(path, std::ios::binary);
    std::ostringstream text;
    text << stream.rdbuf();
    return text.str();
}

std::string gzip(std::string_view bytes) {
    z_stream stream{};
    REQUIRE(deflateInit2(&stream, 6, Z_DEFLATED, 15 + 16, 8, Z_DEFAULT_STRATEGY) == Z_OK);
    std::string packed(deflateBound(&stream, bytes.size()) + 64, '\0');
    stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
    stream.avail_in = static_cast<uInt>(bytes.size());
    stream.next_out = reinterpret_cast<Bytef*>(packed.data());
    stream.avail_out = static_cast<uInt>(packed.size());
    REQUIRE(deflate(&stream, Z_FINISH) == Z_STREAM_END);
    packed.resize(stream.total_out);
    deflateEnd(&stream);
    return packed;
}

std::string replaced(std::string text, const std::string& old_part, const std::string& new_part,
                     bool from_back) {
    const size_t at = from_back ? text.rfind(old_part) : text.find(old_part);
    REQUIRE_MESSAGE(at != std::string::npos, "the file holds no '" << old_part << "'");
    return text.replace(at, old_part.size(), new_part);
}

Assembly::Assembly()
    : document_(new TDocStd_Document("BinXCAF")),
      shapes_(XCAFDoc_DocumentTool::ShapeTool(document_->Main())),
      colors_(XCAFDoc_DocumentTool::ColorTool(document_->Main())),
      layers_(XCAFDoc_DocumentTool::LayerTool(document_->Main())) {
    // Without it the writer takes the numbers for lengths in the unit of the file.
    XCAFDoc_DocumentTool::SetLengthUnit(document_, 1.0, UnitsMethods_LengthUnit_Millimeter);
}

TDF_Label Assembly::group(const std::string& name) {
    const TDF_Label label = shapes_->NewShape();
    TDataStd_Name::Set(label, TCollection_ExtendedString(name.c_str(), Standard_True));
    return label;
}

TDF_Label Assembly::part(const std::string& name, const TopoDS_Shape& shape) {
    const TDF_Label label = shapes_->AddShape(shape, Standard_False);
    TDataStd_Name::Set(label, TCollection_ExtendedString(name.c_str(), Standard_True));
    return label;
}

TDF_Label Assembly::place(const TDF_Label& in, const TDF_Label& what, const TopLoc_Location& where,
                          const std::string& name) {
    const TDF_Label component = shapes_->AddComponent(in, what, where);
    if (!name.empty()) {
        TDataStd_Name::Set(component, TCollection_ExtendedString(name.c_str(), Standard_True));
    }
    return component;
}

void Assembly::color(const TDF_Label& label, const Color& srgb) {
    colors_->SetColor(label, Quantity_Color(srgb[0], srgb[1], srgb[2], Quantity_TOC_sRGB),
                      XCAFDoc_ColorSurf);
}

void Assembly::layer(const TDF_Label& label, const std::string& name) {
    layers_->SetLayer(label, TCollection_ExtendedString(name.c_str(), Standard_True));
}

TDF_Label Assembly::sub_shape(const TDF_Label& part, const TopoDS_Shape& shape) {
    return shapes_->AddSubShape(part, shape);
}

void Assembly::write(const std::filesystem::path& path, const std::string& unit,
                     const std::string& schema) {
    const std::lock_guard lock(model::exchange_mutex());
    const model::Silence silence;
    shapes_->UpdateAssemblies();
    STEPCAFControl_Controller::Init();
    const model::Setting unit_setting("write.step.unit", unit.c_str());
    const model::Setting schema_setting("write.step.schema", schema.c_str());
    STEPCAFControl_Writer writer;
    writer.SetLayerMode(Standard_True);
#if OCC_VERSION_HEX >= 0x070800
    // From 7.8 on this writer names the unit of the setting, but leaves the numbers in millimetres.
    StepData_ConfParameters parameters;
    parameters.InitFromStatic();
    writer.ChangeWriter().Model()->SetWriteLengthUnit(
        UnitsMethods::GetLengthUnitScale(parameters.WriteUnit, UnitsMethods_LengthUnit_Millimeter));
#endif
    REQUIRE(writer.Transfer(document_, STEPControl_AsIs));
    REQUIRE(writer.Write(path.c_str()) == IFSelect_RetDone);
}

void Assembly::write_in_files(const std::filesystem::path& path) {
    const std::lock_guard lock(model::exchange_mutex());
    const model::Silence silence;
    shapes_->UpdateAssemblies();
    STEPCAFControl_Controller::Init();
    const model::Setting unit_setting("write.step.unit", "MM");
    const model::Setting schema_setting("write.step.schema", "AP214IS");
    STEPCAFControl_Writer writer;
    REQUIRE(writer.Transfer(document_, STEPControl_AsIs, "of_"));
    REQUIRE(writer.Write(path.c_str()) == IFSelect_RetDone);
}

void write_step(const TopoDS_Shape& shape, const std::filesystem::path& path,
                const std::string& unit) {
    Assembly assembly;
    assembly.part("part", shape);
    assembly.write(path, unit);
}

std::string brep_text(const TopoDS_Shape& shape) {
    std::ostringstream stream;
    BRepTools::Write(shape, stream);
    return stream.str();
}

std::string brep_binary(const TopoDS_Shape& shape) {
    std::ostringstream stream;
    BinTools::Write(shape, stream);
    return stream.str();
}

Model read_back(const TopoDS_Shape& shape, int way, const TemporaryFolder& folder) {
    if (way == 0) return from_shape(shape);
    if (way == 1) return from_brep(brep_text(shape));
    const auto path = folder / "body.step";
    write_step(shape, path);
    return load(path);
}

TopoDS_Shape box(double x, double y, double z) { return BRepPrimAPI_MakeBox(x, y, z).Solid(); }

TopoDS_Shape compound(const std::vector<TopoDS_Shape>& shapes) {
    const BRep_Builder builder;
    TopoDS_Compound result;
    builder.MakeCompound(result);
    for (const TopoDS_Shape& shape : shapes) builder.Add(result, shape);
    return result;
}

TopLoc_Location shifted(double x, double y, double z) {
    gp_Trsf movement;
    movement.SetTranslation(gp_Vec(x, y, z));
    return TopLoc_Location(movement);
}

TopLoc_Location general_position(double angle, double x, double y, double z) {
    gp_Trsf movement;
    movement.SetRotation(gp_Ax1(gp::Origin(), gp_Dir(1.0, 2.0, 3.0)), angle);
    movement.SetTranslationPart(gp_Vec(x, y, z));
    return TopLoc_Location(movement);
}

TopoDS_Shape box_shell(double size, int missing_faces) {
    const BRep_Builder builder;
    TopoDS_Shell shell;
    builder.MakeShell(shell);
    int number = 0;
    for (TopExp_Explorer faces(box(size, size, size), TopAbs_FACE); faces.More(); faces.Next()) {
        if (++number > missing_faces) builder.Add(shell, faces.Current());
    }
    return shell;
}

std::optional<LoadError> load_error(const std::filesystem::path& path, const LoadOptions& options) {
    try {
        load(path, options);
    } catch (const LoadError& error) {
        return error;
    }
    return std::nullopt;
}

}  // namespace planform::test

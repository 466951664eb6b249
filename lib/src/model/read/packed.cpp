#include "model/read/packed.hpp"

#include <BRep_Builder.hxx>
#include <BinTools.hxx>
#include <Standard_Version.hxx>
#include <TopoDS_Compound.hxx>
#include <TopoDS_Iterator.hxx>
#include <cstring>
#include <map>
#include <sstream>
#include <type_traits>

#include "model/body/solid_data.hpp"
#include "model/kernel/kernel.hpp"
#include "model/read/memory_stream.hpp"

namespace planform::model {

namespace {

/// Raised when the layout of the bytes or what load() makes of a file changes.
constexpr int layout = 4;

[[noreturn]] void throw_damaged(const std::string& source) {
    throw LoadError(ErrorKind::file_damaged,
                    source + ": the packed model is damaged; read the file itself");
}

class Writer {
  public:
    template <class Value>
    void value(const Value& value) {
        static_assert(std::is_trivially_copyable_v<Value>);
        bytes_.append(reinterpret_cast<const char*>(&value), sizeof(Value));
    }
    void text(std::string_view text) {
        value(std::uint64_t{text.size()});
        bytes_.append(text);
    }
    void texts(const std::vector<std::string>& texts) {
        value(std::uint64_t{texts.size()});
        for (const std::string& each : texts) text(each);
    }
    std::string take() { return std::move(bytes_); }

  private:
    std::string bytes_;
};

class Reader {
  public:
    Reader(std::string_view bytes, const std::string& source) : rest_(bytes), source_(source) {}

    template <class Value>
    Value value() {
        static_assert(std::is_trivially_copyable_v<Value>);
        Value value;
        std::memcpy(static_cast<void*>(&value), taken(sizeof(Value)).data(), sizeof(Value));
        return value;
    }
    std::string_view text() { return taken(value<std::uint64_t>()); }
    std::vector<std::string> texts() {
        std::vector<std::string> result;
        for (std::uint64_t count = value<std::uint64_t>(); count > 0; --count) {
            result.emplace_back(text());
        }
        return result;
    }
    [[noreturn]] void refuse() const { throw_damaged(source_); }
    bool at_end() const { return rest_.empty(); }

  private:
    std::string_view taken(std::uint64_t count) {
        if (count > rest_.size()) refuse();
        const std::string_view part = rest_.substr(0, count);
        rest_.remove_prefix(count);
        return part;
    }

    std::string_view rest_;
    const std::string& source_;
};

/// The distinct shapes by number, without location.
std::map<int, TopoDS_Shape> distinct_shapes(const Model& model) {
    std::map<int, TopoDS_Shape> shapes;
    for (const Solid& solid : model.solids()) {
        shapes.emplace(solid.shape_index(), solid.data().shape.Located({}));
    }
    return shapes;
}

void write_shapes(Writer& writer, const std::map<int, TopoDS_Shape>& shapes) {
    const BRep_Builder builder;
    TopoDS_Compound all;
    builder.MakeCompound(all);
    writer.value(std::uint64_t{shapes.size()});
    for (const auto& [number, shape] : shapes) {
        writer.value(number);
        builder.Add(all, shape);
    }
    std::ostringstream stream;
    stream.imbue(std::locale::classic());
    BinTools::Write(all, stream);
    writer.text(stream.str());
}

std::map<int, TopoDS_Shape> read_shapes(Reader& reader) {
    std::vector<int> numbers;
    for (std::uint64_t count = reader.value<std::uint64_t>(); count > 0; --count) {
        numbers.push_back(reader.value<int>());
    }
    MemoryStream stream(reader.text(), true);
    TopoDS_Shape all;
    BinTools::Read(all, stream);
    if (all.IsNull()) reader.refuse();
    std::map<int, TopoDS_Shape> shapes;
    size_t place = 0;
    for (TopoDS_Iterator parts(all); parts.More(); parts.Next(), ++place) {
        if (place == numbers.size()) reader.refuse();
        shapes.emplace(numbers[place], parts.Value());
    }
    if (shapes.size() != numbers.size()) reader.refuse();
    return shapes;
}

void write_solid(Writer& writer, const SolidData& solid) {
    writer.value(solid.shape_index);
    // As it is in memory: the kernel's own writer rounds.
    writer.value(solid.shape.Location().Transformation());
    writer.value(solid.shape.Location().IsIdentity());
    writer.text(solid.name);
    writer.texts(solid.path);
    writer.value(solid.color.has_value());
    writer.value(solid.color.value_or(Color{}));
    writer.texts(solid.layers);
    for (int entry = 0; entry < 16; ++entry) writer.value(solid.placement.matrix().data()[entry]);
    writer.value(solid.part);
    writer.text(solid.part_name);
    writer.texts(solid.notes);
}

std::shared_ptr<SolidData> read_solid(Reader& reader, const std::map<int, TopoDS_Shape>& shapes) {
    auto solid = std::make_shared<SolidData>();
    solid->shape_index = reader.value<int>();
    const auto shape = shapes.find(solid->shape_index);
    if (shape == shapes.end()) reader.refuse();
    const auto movement = reader.value<gp_Trsf>();
    const bool in_place = reader.value<bool>();
    solid->shape = shape->second.Located(in_place ? TopLoc_Location() : TopLoc_Location(movement));
    solid->name = reader.text();
    solid->path = reader.texts();
    const bool colored = reader.value<bool>();
    const auto color = reader.value<Color>();
    if (colored) solid->color = color;
    solid->layers = reader.texts();
    for (int entry = 0; entry < 16; ++entry) {
        solid->placement.matrix().data()[entry] = reader.value<double>();
    }
    solid->part = reader.value<int>();
    solid->part_name = reader.text();
    solid->notes = reader.texts();
    return solid;
}

Model read_model(Reader& reader, const std::string& source) {
    std::string unit(reader.text());
    std::vector<std::string> notes = reader.texts();
    const auto healed = reader.value<Healed>();
    const std::map<int, TopoDS_Shape> shapes = read_shapes(reader);
    std::map<int, std::shared_ptr<const SolidData>> firsts;  // of each distinct shape
    std::vector<Solid> solids;
    for (std::uint64_t count = reader.value<std::uint64_t>(); count > 0; --count) {
        const std::shared_ptr<SolidData> solid = read_solid(reader, shapes);
        const SolidData& first = *firsts.emplace(solid->shape_index, solid).first->second;
        solid->mass = first.mass;
        solid->boundaries = first.boundaries;
        solids.emplace_back(solid);
    }
    if (!reader.at_end()) reader.refuse();
    return Model(std::move(solids), std::move(unit), source, std::move(notes), healed);
}

}  // namespace

std::string packed(const Model& model) {
    const Silence silence;
    return guarded(model.source(), ErrorKind::kernel_failure, [&] {
        Writer writer;
        writer.text(model.unit());
        writer.texts(model.notes());
        writer.value(model.healed());
        write_shapes(writer, distinct_shapes(model));
        writer.value(std::uint64_t{model.solids().size()});
        for (const Solid& solid : model.solids()) write_solid(writer, solid.data());
        return writer.take();
    });
}

Model unpacked(std::string_view bytes, const std::string& source) {
    const Silence silence;
    return guarded(source, ErrorKind::file_damaged, [&] {
        Reader reader(bytes, source);
        return read_model(reader, source);
    });
}

std::string packing_version() {
    return "layout " + std::to_string(layout) + ", kernel " + OCC_VERSION_COMPLETE + ", numbers " +
           std::to_string(sizeof(gp_Trsf)) + "/" + std::to_string(sizeof(int));
}

}  // namespace planform::model

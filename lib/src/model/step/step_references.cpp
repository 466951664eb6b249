#include "model/step/step_references.hpp"

#include <STEPConstruct_ExternRefs.hxx>
#include <StepBasic_ProductDefinition.hxx>
#include <StepData_StepModel.hxx>
#include <TCollection_HAsciiString.hxx>
#include <TopoDS_Iterator.hxx>
#include <XSControl_WorkSession.hxx>
#include <system_error>

#include "model/read/content.hpp"
#include "model/read/memory_stream.hpp"
#include "model/step/step_check.hpp"
#include "model/step/step_records.hpp"
#include "model/step/step_units.hpp"
#include "planform/error.hpp"

namespace planform::model {

namespace {

namespace fs = std::filesystem;

/// A file may name its format; then it has to be STEP.
bool is_step(const Handle(TCollection_HAsciiString) & format) {
    return format.IsNull() || std::string_view(format->ToCString()).starts_with("STEP AP");
}

class References {
  public:
    References(const fs::path& source, Products& products, const ReadProducts& read_products)
        : source_(source), products_(products), read_products_(read_products) {}

    /// The root of the file, or an assembly of all its roots; nothing if it can't be read, which is
    /// noted.
    Node* root(const std::string& name) {
        const fs::path path = (source_.parent_path() / name).lexically_normal();
        const auto [known, is_new] = products_.root_of_file.try_emplace(path.string(), nullptr);
        if (!is_new) return known->second;
        std::error_code missing;
        if (!fs::is_regular_file(source_, missing) || !fs::is_regular_file(path, missing)) {
            note(name, "it is not there; put it beside this one, or export all into one file");
            return nullptr;
        }
        try {
            return products_.root_of_file[path.string()] = read(path);
        } catch (const LoadError& error) {
            note(name, error.what());
            return nullptr;
        }
    }

  private:
    void note(const std::string& name, const std::string& why) {
        products_.notes.push_back("a part lies in another file, " + name + ": " + why);
    }

    Node* read(const fs::path& path) {
        const std::string source = path.string();
        const std::string bytes = unpacked_bytes(read_bytes(path), source);
        if (sniff(bytes) != Content::step) {
            throw LoadError(ErrorKind::file_not_recognised,
                            source + ": the content is not STEP; export the part as STEP");
        }
        check_exchange_structure(exchange_structure(bytes), source);
        STEPControl_Reader reader;
        parse_step(reader, exchange_structure(bytes), source);
        check_instances(reader, source);
        if (products_.units_are_given) replace_length_units_by_mm(reader.StepModel());
        const std::size_t first = products_.top.size();
        try {
            read_products_(reader, path, products_);
            check_transfer(reader, source);
        } catch (const LoadError&) {
            // What has been read of it must not stand where nothing places it.
            products_.top.resize(first);
            throw;
        }
        return one_of_all(first);
    }

    /// The product that is all which has been added to the top from `first` on; nothing if nothing
    /// has been added.
    Node* one_of_all(std::size_t first) {
        std::vector<Node*> roots;
        for (std::size_t i = first; i < products_.top.size(); ++i) {
            if (!products_.top[i]->is_used) roots.push_back(products_.top[i]);
        }
        if (roots.empty()) return nullptr;
        if (roots.size() == 1 && roots.front()->product == nullptr) return roots.front();
        Node& whole = products_.nodes.emplace_back();
        whole.is_assembly = true;
        for (Node* root : roots) {
            root->is_used = true;
            if (root->product == nullptr) {
                Node& instance = products_.nodes.emplace_back();
                instance.shape = root->shape;
                instance.product = root;
                whole.instances.push_back(&instance);
            } else {
                whole.instances.push_back(root);
            }
        }
        products_.top.push_back(&whole);
        return &whole;
    }

    const fs::path& source_;
    Products& products_;
    const ReadProducts& read_products_;
};

}  // namespace

std::string_view exchange_structure(std::string_view bytes) {
    return bytes.substr(bytes.find("ISO-10303-21"));
}

void parse_step(STEPControl_Reader& reader, std::string_view bytes, const std::string& source) {
    MemoryStream stream(bytes, false);
    reader.WS()->SetLibrary(new RecordLibrary(bytes));
    const IFSelect_ReturnStatus status = reader.ReadStream(source.c_str(), stream);
    if (status == IFSelect_RetDone && !reader.StepModel().IsNull()) return;
    throw LoadError(
        ErrorKind::file_damaged,
        source +
            ": the STEP data are damaged: they don't follow ISO 10303-21; copy the file "
            "again, or export the model again");
}

NodeOfShape read_references(STEPControl_Reader& reader, const fs::path& source,
                            const TopTools_MapOfShape& parts, Products& products,
                            const ReadProducts& read) {
    NodeOfShape roots;
    STEPConstruct_ExternRefs found(reader.WS());
    if (!found.LoadExternRefs()) return roots;
    products.root_of_file.try_emplace(source.lexically_normal().string(), nullptr);
    References references(source, products, read);
    for (int i = 1; i <= found.NbExternRefs(); ++i) {
        const char* name = found.FileName(i);
        const Handle(StepBasic_ProductDefinition) definition = found.ProdDef(i);
        if (name == nullptr || *name == '\0' || definition.IsNull() || !is_step(found.Format(i)))
            continue;
        const TopoDS_Shape shape = shape_made_of(reader, definition);
        if (shape.IsNull() || !parts.Contains(shape) || TopoDS_Iterator(shape).More()) continue;
        if (Node* root = references.root(name)) roots.Bind(shape, root);
    }
    return roots;
}

}  // namespace planform::model

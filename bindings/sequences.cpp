#include "sequences.hpp"

#include <functional>

namespace planform::python {

namespace {

/// One class for the parts of one kind. `what` is their name in messages.
template <class T>
void bind_items(py::module_& module, const char* name, const char* what) {
    py::class_<Items<T>> type(module, name,
                              "The parts of a value, in order; a read-only sequence.");
    type.def("__len__", [](const Items<T>& self) { return self.items->size(); })
        .def(
            "__getitem__",
            [what](const Items<T>& self, py::ssize_t index) {
                return self.at(index_in(index, self.items->size(), what));
            },
            py::arg("index"))
        .def(
            "__getitem__",
            [](const Items<T>& self, const py::slice& index) { return self.list(index); },
            py::arg("index"))
        .def(
            "__iter__",
            [](const Items<T>& self) {
                return py::make_iterator(self.items->begin(), self.items->end());
            },
            py::keep_alive<0, 1>())
        .def("__eq__",
             [](const Items<T>& self, const py::object& other) {
                 if (!PySequence_Check(other.ptr()) || py::isinstance<py::str>(other) ||
                     py::len(other) != self.items->size())
                     return false;
                 return self.list().equal(py::list(other));
             })
        .def("__add__", [](const Items<T>& self,
                           const py::object& other) { return self.list() + py::list(other); })
        .def("__radd__", [](const Items<T>& self,
                            const py::object& other) { return py::list(other) + self.list(); })
        .def(
            "index",
            [](const Items<T>& self, const py::object& item) {
                return self.list().attr("index")(item);
            },
            py::arg("item"), "Index of the first equal item; ValueError if there is none.")
        .def(
            "count",
            [](const Items<T>& self, const py::object& item) {
                return self.list().attr("count")(item);
            },
            py::arg("item"), "How many items are equal to this one.")
        .def("__reduce__",
             [](const Items<T>& self) {
                 return py::make_tuple(py::type::of(py::list()), py::make_tuple(self.list()));
             })
        .def("__repr__", [](const Items<T>& self) { return std::string(py::repr(self.list())); });
    py::module_::import("collections.abc").attr("Sequence").attr("register")(type);
}

/// A property that gives the parts.
template <class Class, class T>
void add_parts(py::class_<Class>& type, const char* name,
               const std::vector<T>& (Class::*parts)() const, const char* doc) {
    type.def_property_readonly(
        name,
        [parts](const py::object& self) {
            return sequence((self.cast<const Class&>().*parts)(), self);
        },
        doc);
}

/// Numbers, slices and iteration of an object that is a sequence of its parts. `parts` gives them.
template <class Class, class Parts>
void add_reading(py::class_<Class>& type, const char* what, Parts parts) {
    using List = std::remove_cvref_t<decltype(parts(std::declval<const Class&>()))>;
    using T = typename List::value_type;
    const auto items = [parts](const py::object& self) {
        return Items<T>{&parts(self.cast<const Class&>()), self};
    };
    type.def("__len__", [parts](const Class& self) { return parts(self).size(); })
        .def(
            "__iter__",
            [parts](const Class& self) {
                return py::make_iterator(parts(self).begin(), parts(self).end());
            },
            py::keep_alive<0, 1>())
        .def(
            "__getitem__",
            [items, what](const py::object& self, py::ssize_t index) -> T {
                const Items<T> all = items(self);
                return (*all.items)[index_in(index, all.items->size(), what)];
            },
            py::arg("index"))
        .def(
            "__getitem__",
            [items](const py::object& self, const py::slice& index) {
                return py::typing::List<T>(items(self).list(index));
            },
            py::arg("index"));
}

/// The one part of a name; KeyError if there is none, or several.
template <class T, class Name>
const T& named(const std::vector<T>& parts, const std::string& name, const char* what,
               Name name_of) {
    const T* found = nullptr;
    std::string numbers;
    int count = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        if (name_of(parts[i]) != name) continue;
        found = &parts[i];
        numbers += (count++ ? ", " : "") + std::to_string(i);
    }
    if (count == 1) return *found;
    std::string message = "no " + std::string(what) + " is named '" + name + "'";
    if (count > 1)
        message = std::to_string(count) + " are named '" + name + "', numbers " + numbers +
                  "; ask by number";
    throw py::key_error(message);
}

template <class Class, class Parts, class Name>
void add_names(py::class_<Class>& type, const char* what, Parts parts, Name name_of) {
    type.def(
        "__getitem__",
        [=](const Class& self, const std::string& name) {
            return named(parts(self), name, what, name_of);
        },
        py::arg("name"));
}

template <class T>
const std::string& name_of(const T& part) {
    return part.name();
}

void add_outlines(const py::module_& module) {
    auto contour = py::reinterpret_borrow<py::class_<Contour>>(module.attr("Contour"));
    add_parts(contour, "curves", &Contour::curves, "The curves, head to tail.");
    add_parts(contour, "provenance", &Contour::provenance,
              "Where each curve came from; empty if unknown.");
    add_reading(
        contour, "curves", [](const Contour& self) -> const auto& { return self.curves(); });

    auto profile = py::reinterpret_borrow<py::class_<Profile>>(module.attr("Profile"));
    add_parts(profile, "holes", &Profile::holes, "The contours of the holes, clockwise.");

    auto mark = py::reinterpret_borrow<py::class_<Mark>>(module.attr("Mark"));
    add_parts(mark, "curves", &Mark::curves, "Of the contour or of the open chain.");
    add_reading(
        mark, "curves", [](const Mark& self) -> const auto& { return self.curves(); });

    auto set = py::reinterpret_borrow<py::class_<ProfileSet>>(module.attr("ProfileSet"));
    add_parts(set, "profiles", &ProfileSet::profiles, "The profiles.");
    add_parts(set, "marks", &ProfileSet::marks, "What is scored or engraved, not cut through.");
    const auto profiles = [](const ProfileSet& self) -> const auto& { return self.profiles(); };
    add_reading(set, "profiles", profiles);
    add_names(set, "profile", profiles, name_of<Profile>);
}

void add_models(const py::module_& module) {
    auto model = py::reinterpret_borrow<py::class_<Model>>(module.attr("Model"));
    const auto solids = [](const Model& self) -> const auto& { return self.solids(); };
    add_reading(model, "solids", solids);
    add_names(model, "solid", solids, name_of<Solid>);

    auto plates = py::reinterpret_borrow<py::class_<PlateList>>(module.attr("PlateList"));
    const auto all = [](const PlateList& self) -> const auto& { return self.plates; };
    add_reading(plates, "plates", all);
    add_names(plates, "plate", all, [](const Plate& plate) { return plate.name; });

    auto plan = py::reinterpret_borrow<py::class_<CutPlan>>(module.attr("CutPlan"));
    add_reading(
        plan, "cuts", [](const CutPlan& self) -> const auto& { return self.cuts; });
}

}  // namespace

void bind_sequences(py::module_& module) {
    bind_items<Curve>(module, "_Curves", "curves");
    bind_items<Provenance>(module, "_Provenances", "entries");
    bind_items<Contour>(module, "_Contours", "contours");
    bind_items<Profile>(module, "_Profiles", "profiles");
    bind_items<Mark>(module, "_Marks", "marks");
    add_outlines(module);
    add_models(module);
}

}  // namespace planform::python

/// Which classes are values: see values.hpp.

#include <cmath>
#include <cstring>
#include <limits>
#include <string_view>

#include "value_fields.hpp"

namespace planform::python {

py::object StateOf<double>::out(double value) {
    // One object for all that is no number: tuples then compare by identity, and hashes agree.
    static const py::handle none = PyFloat_FromDouble(std::numeric_limits<double>::quiet_NaN());
    if (std::isnan(value)) return py::reinterpret_borrow<py::object>(none);
    return py::float_(value);
}

namespace {

class Checksum {
  public:
    void add(const void* data, std::size_t size) {
        const auto* bytes = static_cast<const unsigned char*>(data);
        for (std::size_t i = 0; i < size; ++i) sum_ = (sum_ ^ bytes[i]) * 0x100000001b3;
    }
    template <class Number>
    void add(char kind, Number number) {
        add(&kind, 1);
        add(&number, sizeof number);
    }
    /// States are tuples of numbers and bytes, nested.
    void add(py::handle state) {
        if (py::isinstance<py::tuple>(state)) {
            add('t', PyTuple_GET_SIZE(state.ptr()));
            for (const py::handle item : py::reinterpret_borrow<py::tuple>(state)) add(item);
        } else if (py::isinstance<py::bytes>(state)) {
            add('b', PyBytes_GET_SIZE(state.ptr()));
            add(PyBytes_AS_STRING(state.ptr()),
                static_cast<std::size_t>(PyBytes_GET_SIZE(state.ptr())));
        } else if (py::isinstance<py::bool_>(state)) {
            add('o', state.cast<bool>());
        } else if (py::isinstance<py::int_>(state)) {
            add('i', state.cast<long long>());
        } else if (py::isinstance<py::float_>(state)) {
            add('f', state.cast<double>());
        } else if (state.is_none()) {
            add('n', 0);
        } else {
            throw py::type_error("no state");
        }
    }
    std::uint64_t sum() const { return sum_; }

  private:
    std::uint64_t sum_ = 0xcbf29ce484222325;
};

}  // namespace

std::uint64_t checksum_of(py::handle state) {
    Checksum sum;
    constexpr std::string_view version = PLANFORM_VERSION;
    sum.add(version.data(), version.size());
    sum.add(state);
    return sum.sum();
}

void refuse_pickle(const std::string& name) {
    throw LoadError(ErrorKind::file_damaged,
                    "the pickled " + name +
                        " is damaged, or was written by another version of planform; make it anew, "
                        "and keep JSON of what is to last");
}

// --- classes that keep their members to themselves
// ------------------------------------------------

template <>
struct StateOf<Datum> {
    static py::object out(const Datum& datum) {
        return py::make_tuple(state_of(datum.origin()), state_of(datum.normal()),
                              state_of(datum.x()));
    }
    static Datum in(py::handle state) {
        return Datum(from_state<Point3>(item_of(state, 0)), from_state<Vector3>(item_of(state, 1)),
                     from_state<Vector3>(item_of(state, 2)));
    }
};

/// All numbers of curves in one piece of bytes: an outline may have 10^5 curves.
class Numbers {
  public:
    explicit Numbers(std::string bytes = {}) : bytes_(std::move(bytes)) {}

    void add(double number) {
        bytes_.append(reinterpret_cast<const char*>(&number), sizeof number);
    }
    void add(const Point2& point) {
        add(point.x());
        add(point.y());
    }
    double next() {
        double number = 0.0;
        if (place_ + sizeof number > bytes_.size())
            throw py::index_error("the pickled value is damaged");
        std::memcpy(&number, bytes_.data() + place_, sizeof number);
        place_ += sizeof number;
        return number;
    }
    Point2 next_point() {
        const double x = next();
        return {x, next()};
    }
    /// A count of things of which each takes at least one number.
    std::size_t next_count() {
        const double count = next();
        if (!(count >= 0.0 && count <= static_cast<double>(bytes_.size())))
            throw py::index_error("the pickled value is damaged");
        return static_cast<std::size_t>(count);
    }
    const std::string& bytes() const { return bytes_; }

  private:
    std::string bytes_;
    std::size_t place_ = 0;
};

void add_curve(Numbers& numbers, const Line& line) {
    numbers.add(line.start);
    numbers.add(line.end);
}
void add_curve(Numbers& numbers, const Arc& arc) {
    numbers.add(arc.center);
    numbers.add(arc.radius);
    numbers.add(arc.start_angle);
    numbers.add(arc.sweep);
}
void add_curve(Numbers& numbers, const EllipticalArc& arc) {
    numbers.add(arc.center);
    numbers.add(arc.major);
    numbers.add(arc.ratio);
    numbers.add(arc.start_angle);
    numbers.add(arc.sweep);
}
void add_curve(Numbers& numbers, const Spline& spline) {
    numbers.add(spline.degree);
    numbers.add(static_cast<double>(spline.poles.size()));
    for (const Point2& pole : spline.poles) numbers.add(pole);
    numbers.add(static_cast<double>(spline.knots.size()));
    for (const double knot : spline.knots) numbers.add(knot);
    numbers.add(static_cast<double>(spline.weights.size()));
    for (const double weight : spline.weights) numbers.add(weight);
}

Curve next_curve(Numbers& numbers) {
    switch (static_cast<int>(numbers.next())) {
        case 0: {
            const Point2 start = numbers.next_point();
            return Line{start, numbers.next_point()};
        }
        case 1: {
            const Point2 center = numbers.next_point();
            const double radius = numbers.next(), start = numbers.next();
            return Arc{center, radius, start, numbers.next()};
        }
        case 2: {
            const Point2 center = numbers.next_point(), major = numbers.next_point();
            const double ratio = numbers.next(), start = numbers.next();
            return EllipticalArc{center, major, ratio, start, numbers.next()};
        }
        default: {
            Spline spline;
            spline.degree = static_cast<int>(numbers.next());
            spline.poles.resize(numbers.next_count());
            for (Point2& pole : spline.poles) pole = numbers.next_point();
            spline.knots.resize(numbers.next_count());
            for (double& knot : spline.knots) knot = numbers.next();
            spline.weights.resize(numbers.next_count());
            for (double& weight : spline.weights) weight = numbers.next();
            return spline;
        }
    }
}

void add_curves(Numbers& numbers, const std::vector<Curve>& curves) {
    numbers.add(static_cast<double>(curves.size()));
    for (const Curve& curve : curves) {
        numbers.add(static_cast<double>(curve.index()));
        std::visit([&](const auto& kind) { add_curve(numbers, kind); }, curve);
    }
}

std::vector<Curve> next_curves(Numbers& numbers) {
    std::vector<Curve> curves(numbers.next_count());
    for (Curve& curve : curves) curve = next_curve(numbers);
    return curves;
}

template <>
struct StateOf<Contour> {
    static py::object out(const Contour& contour) {
        Numbers numbers;
        add_curves(numbers, contour.curves());
        numbers.add(static_cast<double>(contour.provenance().size()));
        for (const Provenance& provenance : contour.provenance()) {
            numbers.add(static_cast<double>(provenance.kind));
            numbers.add(provenance.solid);
            numbers.add(provenance.entity);
        }
        return py::bytes(numbers.bytes());
    }
    static Contour in(py::handle state) {
        Numbers numbers(state.cast<std::string>());
        std::vector<Curve> curves = next_curves(numbers);
        std::vector<Provenance> provenance(numbers.next_count());
        for (Provenance& each : provenance) {
            each.kind = static_cast<Provenance::Kind>(static_cast<int>(numbers.next()));
            each.solid = static_cast<int>(numbers.next());
            each.entity = static_cast<int>(numbers.next());
        }
        return Contour(std::move(curves), std::move(provenance), Validate::no);
    }
};

template <>
struct StateOf<Profile> {
    static py::object out(const Profile& profile) {
        return py::make_tuple(state_of(profile.outer()), state_of(profile.holes()),
                              state_of(profile.name()), profile.parent());
    }
    static Profile in(py::handle state) {
        return Profile(from_state<Contour>(item_of(state, 0)),
                       from_state<std::vector<Contour>>(item_of(state, 1)),
                       from_state<std::string>(item_of(state, 2)), item_of(state, 3).cast<int>(),
                       Validate::no);
    }
};

template <>
struct StateOf<Mark> {
    static py::object out(const Mark& mark) {
        py::object curves;
        if (mark.is_closed()) {
            curves = state_of(mark.contour());
        } else {
            Numbers numbers;
            add_curves(numbers, mark.curves());
            curves = py::bytes(numbers.bytes());
        }
        return py::make_tuple(mark.is_closed(), curves, state_of(mark.name()), mark.depth());
    }
    static Mark in(py::handle state) {
        const py::object curves = item_of(state, 1);
        const std::string name = from_state<std::string>(item_of(state, 2));
        const double depth = from_state<double>(item_of(state, 3));
        if (item_of(state, 0).cast<bool>()) return Mark(from_state<Contour>(curves), name, depth);
        Numbers numbers(curves.cast<std::string>());
        return Mark::open(next_curves(numbers), name, depth);
    }
};

template <>
struct StateOf<Proof> {
    static py::object out(const Proof& proof) { return state_of(proof.laws()); }
    static Proof in(py::handle state) {
        Proof proof;
        for (const ProvenLaw& law : from_state<std::vector<ProvenLaw>>(state))
            proof.add(law.name, law.checks, law.largest_deviation);
        return proof;
    }
};

template <>
struct StateOf<ProfileSet> {
    static py::object out(const ProfileSet& set) {
        return py::make_tuple(state_of(set.profiles()), state_of(set.marks()),
                              state_of(set.datum()), set.tolerance(), state_of(set.name()),
                              state_of(set.notes()), state_of(set.proof()), state_of(set.data()));
    }
    static ProfileSet in(py::handle state) {
        return ProfileSet(from_state<std::vector<Profile>>(item_of(state, 0)),
                          from_state<std::vector<Mark>>(item_of(state, 1)),
                          from_state<Datum>(item_of(state, 2)),
                          from_state<double>(item_of(state, 3)),
                          from_state<std::string>(item_of(state, 4)),
                          from_state<std::vector<std::string>>(item_of(state, 5)), Validate::no)
            .with_proof(from_state<Proof>(item_of(state, 6)))
            .with_data(from_state<std::string>(item_of(state, 7)));
    }
};

template <>
struct StateOf<RuleSet> {
    static py::object out(const RuleSet& rules) { return state_of(rules.rules()); }
    static RuleSet in(py::handle state) {
        RuleSet rules;
        for (const Rule& rule : from_state<std::vector<Rule>>(state)) {
            const Rule& usual = rules.rule(rule.kind);
            const bool same_limit = rule.limit == usual.limit && rule.unit == usual.unit;
            if (!same_limit) rules = rules.with_limit(rule.kind, rule.limit, rule.unit);
            rules =
                rules.with_severity(rule.kind, rule.severity).with_enabled(rule.kind, rule.enabled);
        }
        return rules;
    }
};

// --- models -------------------------------------------------------------------------------------

template <>
struct StateOf<Model> {
    static py::object out(const Model& model) {
        std::string bytes;
        {
            const py::gil_scoped_release released;
            bytes = model_bytes(model);
        }
        return py::bytes(bytes);
    }
    static Model in(py::handle state) {
        const auto bytes = state.cast<std::string>();
        const py::gil_scoped_release released;
        return model_from_bytes(bytes);
    }
};

/// A solid travels as a model of its own.
template <>
struct StateOf<Solid> {
    static py::object out(const Solid& solid) {
        return state_of(Model({solid}, "mm", solid.name(), {}));
    }
    static Solid in(py::handle state) {
        const Model model = from_state<Model>(state);
        if (model.solids().size() != 1) throw py::index_error("the pickled value is damaged");
        return model.solids().front();
    }
};

template <>
struct StateOf<SectionStack> {
    static py::object out(const SectionStack& stack) {
        const SectionOptions& options = stack.options();
        // Each solid by itself: those of several models may have the same index of a shape.
        return py::make_tuple(state_of(stack.solids()), state_of(stack.datum()), options.tolerance,
                              state_of(options.merge), state_of(options.side));
    }
    static SectionStack in(py::handle state) {
        const auto solids = from_state<std::vector<Solid>>(item_of(state, 0));
        const SectionOptions options{from_state<double>(item_of(state, 2)),
                                     from_state<Merge>(item_of(state, 3)),
                                     from_state<Side>(item_of(state, 4))};
        return SectionStack(solids, from_state<Datum>(item_of(state, 1)), options);
    }
};

template <>
struct StateOf<OutlineIndex> {
    static py::object out(const OutlineIndex& index) { return state_of(index.profile_set()); }
    static OutlineIndex in(py::handle state) { return OutlineIndex(from_state<ProfileSet>(state)); }
};

namespace {

/// Of bound classes whose equality is the library's own.
template <class T, class Hash>
void add_equality(py::class_<T>& type, Hash hash) {
    type.def("__eq__",
             [](const T& value, const py::object& other) {
                 if (!py::isinstance<T>(other)) return false;
                 const T& second = other.cast<const T&>();
                 const py::gil_scoped_release released;
                 return value == second;
             })
        .def("__hash__", hash);
}

void add_model_values(const py::module_& module) {
    auto solid = py::reinterpret_borrow<py::class_<Solid>>(module.attr("Solid"));
    add_pickling(solid);
    add_equality(solid, [](const Solid& value) {
        return py::hash(py::make_tuple(state_of(value.name()), value.shape_index(), value.part()));
    });
    auto model = py::reinterpret_borrow<py::class_<Model>>(module.attr("Model"));
    add_pickling(model);
    add_equality(model, [](const Model& value) {
        return py::hash(py::make_tuple(state_of(value.source()), value.solids().size()));
    });
    auto stack = py::reinterpret_borrow<py::class_<SectionStack>>(module.attr("SectionStack"));
    add_pickling(stack);
    stack.def("__repr__", [](const SectionStack& value) {
        return "SectionStack(<" + std::to_string(value.solids().size()) +
               " solids>, datum=" + std::string(py::repr(py::cast(value.datum()))) + ")";
    });
    add_equality(stack, [](const SectionStack& value) {
        return py::hash(py::make_tuple(state_of(value.datum()), value.solids().size()));
    });
}

void add_outline_values(const py::module_& module) {
    add_value<Datum>(module, "Datum");
    add_value<Line>(module, "Line");
    add_value<Arc>(module, "Arc");
    add_value<EllipticalArc>(module, "EllipticalArc");
    add_value<Spline>(module, "Spline");
    add_value<Provenance>(module, "Provenance");
    // By numbers, not by bytes: a coordinate may be minus nought.
    auto contour = py::reinterpret_borrow<py::class_<Contour>>(module.attr("Contour"));
    add_pickling(contour);
    add_equality(contour, [](const Contour& value) {
        return py::hash(py::make_tuple(value.curves().size(), value.area()));
    });
    auto profile = py::reinterpret_borrow<py::class_<Profile>>(module.attr("Profile"));
    add_pickling(profile);
    add_equality(profile, [](const Profile& value) {
        return py::hash(py::make_tuple(state_of(value.name()), value.parent(), value.holes().size(),
                                       value.area()));
    });
    auto mark = py::reinterpret_borrow<py::class_<Mark>>(module.attr("Mark"));
    add_pickling(mark);
    add_equality(mark, [](const Mark& value) {
        return py::hash(py::make_tuple(state_of(value.name()), value.depth(), value.curves().size(),
                                       value.area()));
    });
    add_value<ProvenLaw>(module, "ProvenLaw");
    add_value<Proof>(module, "Proof");
    // Its equality allows for rounding: see bind_profile_set().
    auto set = py::reinterpret_borrow<py::class_<ProfileSet>>(module.attr("ProfileSet"));
    add_pickling(set);
    auto index = py::reinterpret_borrow<py::class_<OutlineIndex>>(module.attr("OutlineIndex"));
    add_pickling(index);
    index
        .def("__eq__",
             [](const OutlineIndex& value, const py::object& other) {
                 return py::isinstance<OutlineIndex>(other) &&
                        value.profile_set() == other.cast<const OutlineIndex&>().profile_set();
             })
        .def("__hash__",
             [](const OutlineIndex& value) { return py::hash(py::cast(value.profile_set())); });
    add_value<DrawingLayer>(module, "DrawingLayer");
}

void add_result_values(const py::module_& module) {
    add_value<Rule>(module, "Rule");
    add_value<RuleSet>(module, "RuleSet");
    add_value<Finding>(module, "Finding");
    add_value<Sheet>(module, "Sheet");
    add_value<NarrowPlace>(module, "NarrowPlace");
    add_value<CurvePlace>(module, "CurvePlace");
    add_value<Allowed>(module, "Allowed");
    add_value<Allowance>(module, "Allowance");
    add_value<DoubledCurve>(module, "DoubledCurve");
    add_value<Gap>(module, "Gap");
    add_value<OpenChain>(module, "OpenChain");
    add_value<TinyCurve>(module, "TinyCurve");
    add_value<CrossedCurves>(module, "CrossedCurves");
    add_value<ClosedChain>(module, "ClosedChain");
    add_value<ClosedContours>(module, "ClosedContours");
    add_value<FittedCurve>(module, "FittedCurve");
    add_value<PlacedPiece>(module, "PlacedPiece");
    add_value<Cut>(module, "Cut");
    add_value<PlanFinding>(module, "PlanFinding");
    add_value<CutTime>(module, "CutTime");
    add_value<CutPlan>(module, "CutPlan");
}

void add_part_values(const py::module_& module) {
    add_value<Healed>(module, "Healed");
    add_value<SideUp>(module, "SideUp");
    add_value<UncuttableFeature>(module, "UncuttableFeature");
    add_value<StraightCut>(module, "StraightCut");
    add_value<Congruence>(module, "Congruence");
    add_value<PlateInstance>(module, "PlateInstance");
    add_value<Plate>(module, "Plate");
    add_value<OtherPart>(module, "OtherPart");
    add_value<PlateList>(module, "PlateList");
    add_value<Contact>(module, "Contact");
    add_value<PlacedOutline>(module, "PlacedOutline");
    add_value<MatingCurve>(module, "MatingCurve");
    add_value<MatingOutline>(module, "MatingOutline");
    add_value<Mating>(module, "Mating");
    add_value<BendTableRow>(module, "BendTableRow");
    add_value<BendRule>(module, "BendRule");
    add_value<Bend>(module, "Bend");
    add_value<Blank>(module, "Blank");
    add_value<UnfoldRefusal>(module, "UnfoldRefusal");
}

}  // namespace

void bind_values(py::module_& module) {
    add_outline_values(module);
    add_result_values(module);
    add_part_values(module);
    add_model_values(module);
}

}  // namespace planform::python

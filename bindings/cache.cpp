#include "binding.hpp"

namespace planform::python {

void bind_cache(py::module_& module) {
    module.def(
        "_referred_files",
        [](const py::bytes& data, const std::filesystem::path& path,
           const std::vector<std::string>& suffixes) {
            const std::string_view view = data;
            const py::gil_scoped_release released;
            NamedFiles named = files_named_in(view, path, suffixes);
            return std::pair(std::move(named.there), std::move(named.absent));
        },
        py::arg("data"), py::arg("path"), py::arg("suffixes"),
        "The files that a model's bytes name as parts of its own, from the folder of its path, and "
        "those of "
        "names with these suffixes that are not there.\n\nRaises LoadError for damaged gzip data.");
    module.def(
        "_load_cached_bytes",
        [](const py::bytes& data, const std::filesystem::path& path,
           const std::optional<std::filesystem::path>& cache,
           const std::optional<std::string>& unit, double scale, Heal heal) {
            auto bytes = py::cast<std::string>(data);
            const py::gil_scoped_release released;
            return load_cached_bytes(
                std::move(bytes), path,
                {cache.value_or(std::filesystem::path()), CacheOptions{}.limit},
                {unit.value_or(std::string()), scale, heal});
        },
        py::arg("data"), py::arg("path"), py::arg("cache"), py::kw_only(),
        py::arg("unit") = py::none(), py::arg("scale") = 1.0, py::arg("heal") = Heal::needed,
        "What `load_cached` makes of a file, of bytes that were read from it before.");
    module.def(
        "load_cached",
        [](const std::filesystem::path& path, const std::optional<std::filesystem::path>& cache,
           const std::optional<std::string>& unit, double scale, Heal heal, std::uint64_t limit) {
            const py::gil_scoped_release released;
            return load_cached(path, {cache.value_or(std::filesystem::path()), limit},
                               {unit.value_or(std::string()), scale, heal});
        },
        py::arg("path"), py::arg("cache"), py::kw_only(), py::arg("unit") = py::none(),
        py::arg("scale") = 1.0, py::arg("heal") = Heal::needed,
        py::arg("limit") = CacheOptions{}.limit,
        R"(Like `load`, but a file that has been read before comes from a cache of parsed models.

The model is the same bit for bit whether the cache held it or not, and that of `load` but for
rounding. A cache that is damaged, read-only or full costs time and nothing else; several processes
may share one.

Parameters
----------
path : path-like
cache : path-like or None
    Folder of the cache; made if missing. None: nothing is kept, the model is the same.
unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
    Read all lengths as this unit instead of the file's own.
scale : float, optional
    Multiply all lengths by this, no unit.
heal : {'needed', 'always'}, optional
    As in `load`.
limit : int, optional
    Bytes that the cache may take; models not used for longest go first.

Returns
-------
Model
    In mm.

Raises
------
LoadError
    With the path and what to do, if the file can't be read or holds no solid.
GeometryError
    For an unknown unit or a scale that is not finite and positive.

Examples
--------
>>> import pathlib, planform, tempfile
>>> folder = pathlib.Path(tempfile.mkdtemp())
>>> path = planform.write_demo_assembly(folder / "station.step")
>>> first = planform.load_cached(path, folder / "cache")
>>> [solid.name for solid in first] == [solid.name for solid in planform.load(path)]
True
)");
    module.def(
        "default_cache_folder", &default_cache_folder,
        R"(Where a person's cache of parsed models is: in ``$XDG_CACHE_HOME`` or ``~/.cache``.

Returns
-------
pathlib.Path
    ``Path()`` if there is no home.

Examples
--------
>>> import planform
>>> planform.default_cache_folder().name
'planform'
)");
}

}  // namespace planform::python

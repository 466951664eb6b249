#pragma once

namespace planform::detail {

/// One callable out of several lambdas, for std::visit over a Curve.
template <class... Callables>
struct Overloaded : Callables... {
    using Callables::operator()...;
};
template <class... Callables>
Overloaded(Callables...) -> Overloaded<Callables...>;

}  // namespace planform::detail

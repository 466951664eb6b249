#pragma once

/// Ways that may fail, since there is another one to be tried. What stood in the way of the first
/// is a value that is kept, and said if the others lead nowhere.

#include <exception>
#include <optional>
#include <string>
#include <utility>

#include "planform/error.hpp"

namespace planform::flatten {

/// What stood in the way of a result.
class Setback {
  public:
    Setback(std::exception_ptr error, ErrorKind kind, std::string cause)
        : error_(std::move(error)), kind_(kind), cause_(std::move(cause)) {}

    ErrorKind kind() const { return kind_; }
    const std::string& cause() const { return cause_; }
    /// As it was.
    [[noreturn]] void raise() const { std::rethrow_exception(error_); }
    /// The result of another way. Its error, where it has one, says what stood in this one, too.
    template <class Work>
    auto otherwise(Work&& work) const {
        try {
            return work();
        } catch (const GeometryError& error) {
            throw GeometryError(error.kind(),
                                std::string(error.what()) + " (tried before: " + cause_ + ")");
        }
    }

  private:
    std::exception_ptr error_;
    ErrorKind kind_;
    std::string cause_;
};

/// Runs `work`, and returns what stood in its way; nothing if it came to its end. Errors of the
/// kernel pass.
template <class Work>
std::optional<Setback> attempt(Work&& work) {
    try {
        work();
        return std::nullopt;
    } catch (const GeometryError& error) {
        return Setback(std::current_exception(), error.kind(), error.what());
    }
}

}  // namespace planform::flatten

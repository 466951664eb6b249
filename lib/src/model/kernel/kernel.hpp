#pragma once

/// Living with the kernel: its global state, its messages, its exceptions.

#include <Standard_Failure.hxx>
#include <ios>
#include <mutex>
#include <new>
#include <stdexcept>
#include <string>
#include <utility>

#include "planform/error.hpp"

namespace planform::model {

/// Data exchange in Open CASCADE keeps units and settings in process-wide variables: one reader or
/// writer at a time holds this mutex.
std::mutex& exchange_mutex();

/// While it lives, what this thread says to the kernel's default messenger and to std::cout is
/// dropped. Messages of other threads and of a caller's own use of the kernel stay as they were.
class Silence {
  public:
    Silence();
    ~Silence();
    Silence(const Silence&) = delete;
    Silence& operator=(const Silence&) = delete;
};

/// "Standard_OutOfRange: message" of a kernel's exception.
std::string describe_failure(const Standard_Failure& failure);

/// Runs `body`; an exception of the kernel or of memory becomes a LoadError of the given kind that
/// names `source` and says what to do.
template <class Body>
auto guarded(const std::string& source, ErrorKind kind, Body&& body) {
    const std::string advice =
        "; the file may be damaged: write it again from the program that made it";
    try {
        return std::forward<Body>(body)();
    } catch (const Standard_Failure& failure) {
        throw LoadError(kind, source + ": the geometry kernel gave up while reading (" +
                                  describe_failure(failure) + ")" + advice);
    } catch (const std::bad_alloc&) {
        throw LoadError(ErrorKind::kernel_failure,
                        source + ": there is not enough memory to read it" + advice);
    } catch (const std::length_error&) {
        throw LoadError(kind, source + ": a count in the data makes no sense" + advice);
    } catch (const std::ios_base::failure&) {
        throw LoadError(
            kind, source + ": the data end early or hold no number where one belongs" + advice);
    }
}

}  // namespace planform::model

#pragma once

/// An input stream over bytes that are in memory already, without a copy of them.

#include <istream>
#include <locale>
#include <streambuf>
#include <string_view>

namespace planform::model {

class MemoryBuffer : public std::streambuf {
  public:
    explicit MemoryBuffer(std::string_view bytes) {
        char* start = const_cast<char*>(bytes.data());  // only ever read from
        setg(start, start, start + bytes.size());
    }

  protected:
    pos_type seekoff(off_type offset, std::ios_base::seekdir from,
                     std::ios_base::openmode) override {
        const off_type base = from == std::ios_base::beg   ? 0
                              : from == std::ios_base::cur ? gptr() - eback()
                                                           : egptr() - eback();
        const off_type target = base + offset;
        if (target < 0 || target > egptr() - eback()) return pos_type(off_type(-1));
        setg(eback(), eback() + target, egptr());
        return target;
    }
    pos_type seekpos(pos_type position, std::ios_base::openmode mode) override {
        return seekoff(off_type(position), std::ios_base::beg, mode);
    }
};

class MemoryStream : private MemoryBuffer, public std::istream {
  public:
    /// `bytes` must outlive the stream. Numbers are read with a decimal point whatever the locale.
    /// With `strict`, what can't be read throws std::ios_base::failure: the kernel's BREP readers
    /// don't look, and loop as often as a damaged count says.
    explicit MemoryStream(std::string_view bytes, bool strict)
        : MemoryBuffer(bytes), std::istream(static_cast<std::streambuf*>(this)) {
        std::istream::imbue(std::locale::classic());
        if (strict) exceptions(std::ios_base::failbit | std::ios_base::badbit);
    }
};

}  // namespace planform::model

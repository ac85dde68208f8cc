#pragma once

#include <unistd.h>
#include <algorithm>
#include <cerrno>
#include <cstddef>
#include <cstdint>
#include <string>
#include <type_traits>
#include <vector>

namespace standpoint {

// More elements than this in one vector are a damaged message, not a mesh: indices are 32 bits.
inline constexpr std::uint64_t kMostPipeElements = std::uint64_t{1} << 33;
inline constexpr std::size_t kMostPipeBytes = std::size_t{1} << 30;

/// Writes plain values to a pipe, as PipeReader takes them. Bytes are this machine's own.
class PipeWriter {
 public:
  explicit PipeWriter(int pipe) : pipe_(pipe) {}

  [[nodiscard]] bool ok() const { return ok_; }

  void bytes(const void* from, std::size_t count) {
    const char* at = static_cast<const char*>(from);
    while (ok_ && count > 0) {
      const ssize_t done = ::write(pipe_, at, std::min(count, kMostPipeBytes));
      if (done > 0) {
        at += done;
        count -= static_cast<std::size_t>(done);
      } else if (errno != EINTR) {
        ok_ = false;
      }
    }
  }
  template <class T>
  void value(const T& x) {
    static_assert(std::is_trivially_copyable_v<T>);
    bytes(&x, sizeof x);
  }
  template <class T>
  void plain_vector(const std::vector<T>& v) {
    value<std::uint64_t>(v.size());
    bytes(v.data(), v.size() * sizeof(T));
  }
  void text(const std::string& s) {
    value<std::uint64_t>(s.size());
    bytes(s.data(), s.size());
  }
  void texts(const std::vector<std::string>& v) {
    value<std::uint64_t>(v.size());
    for (const std::string& s : v) {
      text(s);
    }
  }

 private:
  int pipe_;
  bool ok_ = true;
};

/// Reads them. After a failure, and after sizes that no memory holds, `ok` is false and what comes
/// is empty. Throws std::bad_alloc or std::length_error for sizes that are beyond this machine.
class PipeReader {
 public:
  explicit PipeReader(int pipe) : pipe_(pipe) {}

  [[nodiscard]] bool ok() const { return ok_; }
  /// What came is out of range: the writer's memory was in disorder.
  void give_up() { ok_ = false; }

  void bytes(void* to, std::size_t count) {
    char* at = static_cast<char*>(to);
    while (ok_ && count > 0) {
      const ssize_t done = ::read(pipe_, at, std::min(count, kMostPipeBytes));
      if (done > 0) {
        at += done;
        count -= static_cast<std::size_t>(done);
      } else if (done == 0 || errno != EINTR) {
        ok_ = false;
      }
    }
  }
  template <class T>
  T value() {
    static_assert(std::is_trivially_copyable_v<T>);
    T x{};
    bytes(&x, sizeof x);
    return x;
  }
  std::size_t count() {
    const auto n = value<std::uint64_t>();
    ok_ = ok_ && n <= kMostPipeElements;
    return ok_ ? static_cast<std::size_t>(n) : 0;
  }
  template <class T>
  void plain_vector(std::vector<T>& v) {
    v.resize(count());
    bytes(v.data(), v.size() * sizeof(T));
  }
  std::string text() {
    std::string s(count(), '\0');
    bytes(s.data(), s.size());
    return s;
  }
  std::vector<std::string> texts() {
    std::vector<std::string> v;
    for (std::size_t left = count(); ok_ && left > 0; --left) {
      v.push_back(text());
    }
    return v;
  }

 private:
  int pipe_;
  bool ok_ = true;
};

}  // namespace standpoint

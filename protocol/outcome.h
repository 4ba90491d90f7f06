// The answer of everything here that compiles a text somebody wrote: the thing, or one error with
// its place. Never thrown, printed or aborted on; what to do with it is the caller's business.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>

namespace understudy::protocol {

// What is wrong with a written template, check, framing or catalogue.
struct FormatError {
  // 1-based byte column in the template's text; 0 = no single place in it.
  std::size_t column = 0;
  // What stands there, and what would be right. Lower case, no full stop.
  std::string found = {};
  std::string expected = {};
  // A line that shows the problem, if one exists: a line with two readings, for example.
  std::string witness = {};
  // Which of several formats: its index in the list handed in (compile_each, Matcher).
  std::size_t format_index = 0;
  // The other one of two that quarrel (Matcher), else equal to format_index.
  std::size_t other_index = 0;

  // "column 7: found `{heatr}`, expected the name of a field; nearest is `heater`"
  std::string sentence() const;
};

// Either a T or a FormatError. value() needs ok(); error() needs !ok().
template <class T>
class Outcome {
 public:
  Outcome(T value) : value_(std::move(value)) {}
  Outcome(FormatError error) : error_(std::move(error)) {}

  bool ok() const { return value_.has_value(); }
  explicit operator bool() const { return ok(); }

  // REQUIRES: ok()
  const T& value() const& { return *value_; }
  T& value() & { return *value_; }
  T&& value() && { return *std::move(value_); }

  // REQUIRES: !ok()   (when ok, an empty error)
  const FormatError& error() const { return error_; }

 private:
  std::optional<T> value_;
  FormatError error_;
};

}  // namespace understudy::protocol

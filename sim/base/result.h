// How the outside world's refusals travel: a value or an Error. Our own bugs don't: see check.h.
#pragma once

#include <string>
#include <utility>
#include <variant>

#include "sim/base/check.h"

namespace understudy {

// A new code only where a caller would act differently; everything else is text on one of these.
enum class ErrorCode {
  kUnusable,    // arguments or files that cannot be used: exit status 2
  kLinkFailed,  // a port, socket or device said no: exit status 3
  kBusy,        // somebody else holds it; trying again later may help: exit status 3
  kGameFailed,  // the game could not start or ended badly: exit status 1
  kMismatch,    // a verification or expectation failed: exit status 1
  kOtherModel,  // a recording made by another model number: exit status 2
};

// What was tried, on what, what was said, what to do next; lower case, no full stop.
// `text` may hold several lines, one sentence each.
struct Error {
  ErrorCode code = ErrorCode::kUnusable;
  std::string text;
};

// A T or an Error. Regular like T; nothing is thrown.
template <class T>
class [[nodiscard]] Result {
 public:
  Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
  Result(Error error) : state_(std::in_place_index<1>, std::move(error)) {}

  [[nodiscard]] bool ok() const { return state_.index() == 0; }
  explicit operator bool() const { return ok(); }

  // REQUIRES: ok()
  [[nodiscard]] T& value() & { return checked(); }
  [[nodiscard]] const T& value() const& { return const_cast<Result*>(this)->checked(); }
  [[nodiscard]] T&& value() && { return std::move(checked()); }

  // REQUIRES: !ok()
  [[nodiscard]] const Error& error() const {
    CHECK(!ok(), "an error was asked of a result that holds a value");
    return std::get<1>(state_);
  }

 private:
  T& checked() {
    CHECK(ok(), "a value was asked of a result that holds an error");
    return std::get<0>(state_);
  }
  std::variant<T, Error> state_;
};

// For calls that give nothing back but may fail: `return Done{};`
struct Done {};

}  // namespace understudy

// What the tests of links share: a pacer, one link or more, and the game's part played with plain
// system calls that never block.
#pragma once

#include <fcntl.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include <functional>
#include <memory>
#include <string>
#include <variant>
#include <vector>

#include "sim/link/descriptor.h"
#include "sim/link/link.h"
#include "sim/link/pacer.h"

namespace understudy {

// The game's end of a pseudo-terminal, as a program would open it.
inline Descriptor open_port(const std::string& path) {
  return Descriptor(::open(path.c_str(), O_RDWR | O_NOCTTY | O_NONBLOCK | O_CLOEXEC));
}

inline std::string read_port(const Descriptor& port, std::size_t bytes_max = 65'536) {
  std::string bytes(bytes_max, '\0');
  const ssize_t got = ::read(port.get(), bytes.data(), bytes.size());
  bytes.resize(got > 0 ? static_cast<std::size_t>(got) : 0);
  return bytes;
}

inline std::size_t write_port(const Descriptor& port, const std::string& bytes) {
  const ssize_t put = ::write(port.get(), bytes.data(), bytes.size());
  return put > 0 ? static_cast<std::size_t>(put) : 0;
}

class LinkBench {
 public:
  Pacer pacer;
  std::vector<Input> inputs;
  std::size_t space = 2'048;

  // Takes part in all runs from now on.
  Link& add(Result<std::unique_ptr<Link>> link) {
    EXPECT_TRUE(link.ok()) << (link.ok() ? "" : link.error().text);
    owned_.push_back(std::move(link).value());
    links_.push_back(owned_.back().get());
    return *links_.back();
  }

  // Lets the links work for `length` of real time.
  void run(Duration length) {
    const Instant end = pacer.clock() + length;
    while (pacer.clock() < end) look(end);
  }
  // Until `done`; false where that takes longer than `limit`.
  bool run_until(const std::function<bool()>& done, Duration limit = seconds(5)) {
    const Instant end = pacer.clock() + limit;
    while (!done()) {
      if (pacer.clock() >= end) return false;
      look(earlier(end, pacer.clock() + milliseconds(5)));
    }
    return true;
  }

  template <class What>
  [[nodiscard]] int count() const {
    int n = 0;
    for (const Input& input : inputs) n += std::holds_alternative<What>(input.what) ? 1 : 0;
    return n;
  }
  template <class What>
  [[nodiscard]] What last() const {
    What found{};
    for (const Input& input : inputs) {
      if (const auto* what = std::get_if<What>(&input.what)) found = *what;
    }
    return found;
  }
  [[nodiscard]] std::string bytes_from_game() const {
    std::string all;
    for (const Input& input : inputs) {
      if (const auto* bytes = std::get_if<BytesFromGame>(&input.what)) all += bytes->bytes;
    }
    return all;
  }
  [[nodiscard]] std::int64_t taken() const {
    std::int64_t sum = 0;
    for (const Input& input : inputs) {
      if (const auto* taken = std::get_if<Taken>(&input.what)) sum += taken->bytes;
    }
    return sum;
  }
  // One letter for each input in its order: o(pened) l(ine settings) m(odem) t(aken) b(ytes)
  // c(losed).
  [[nodiscard]] std::string order() const {
    std::string letters;
    for (const Input& input : inputs) letters += std::string("oclmtshb")[input.what.index()];
    return letters;
  }

 private:
  void look(Instant until) {
    pacer.wait(until, links_);
    for (Link* link : links_) link->read_events(pacer, space, inputs);
  }
  std::vector<std::unique_ptr<Link>> owned_;
  std::vector<Link*> links_;
};

}  // namespace understudy

// The rewriter: bytes on their way to the game, in which the fields of held controls are written
// anew. While nothing is held, bytes pass as they came, without waiting for the end of a line.
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "protocol/splitter.h"
#include "sim/model/panel.h"

namespace understudy {

// While something is held: a line that a format of the panel reads, and that carries a held field,
// gets that field's number and its check anew; every other byte of it, and every other line, passes
// as it came. A line that had begun to pass when the hand took hold goes on as it is. Lines are
// held back until they end, or are longer than the panel's lines may be.
//
// A regular value; bounded by the panel's longest line.
class Rewriter {
 public:
  // The number that the held field shall carry.
  using Number = std::function<std::int64_t(std::size_t field)>;

  explicit Rewriter(std::shared_ptr<const Panel> panel);

  // REQUIRES: the control is there, and hands move that part of it
  void hold(std::size_t control, std::size_t part);
  // The last one: appends what was kept back to `out`.
  void let_go(std::size_t control, std::size_t part, std::string& out);
  void let_go_of_all(std::string& out);
  [[nodiscard]] bool holds(std::size_t control, std::size_t part) const;
  [[nodiscard]] bool passes_unaltered() const { return held_.empty() && kept_.empty(); }

  // Appends to `out` what goes on to the game.
  void take(std::string_view bytes, const Number& number, std::string& out);

  // The port was opened anew: what was kept back, and a line on its way, are forgotten.
  void begin_anew();
  // Lines are those of this panel from now on; all controls are let go.
  void reload(std::shared_ptr<const Panel> panel, std::string& out);

 private:
  void find_fields();
  void pass(const protocol::SplitLine& line, const Number& number, std::string& out);
  bool write_anew(std::string_view whole, const protocol::SplitLine& line, const Number& number,
                  std::string& out);
  void flush(std::size_t keep, std::string& out);
  [[nodiscard]] std::size_t begun_start() const;

  std::shared_ptr<const Panel> panel_;
  std::vector<std::pair<std::uint16_t, std::uint8_t>> held_;  // control and part
  std::vector<std::size_t> fields_;                           // of lines to the game, held
  protocol::Splitter splitter_;
  std::uint64_t passed_ = 0;  // bytes of the stream that went on
  std::string kept_;          // what follows them
  std::vector<std::int64_t> numbers_;
};

}  // namespace understudy

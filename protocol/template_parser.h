// Reads the text of a template into a list of nodes, by grammar alone. Whether the fields exist
// and the line can be read back is found out later (format_builder.h).
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "protocol/line_items.h"
#include "protocol/outcome.h"

namespace understudy::protocol {

// `:4+x` and the like after a name.
struct NumberStyle {
  int width = 0;
  bool width_exact = false;
  bool short_decimals = false;
  Notation notation = Notation::kDecimal;

  bool is_default() const {
    return width == 0 && !short_decimals && notation == Notation::kDecimal;
  }
};

struct TemplateNode {
  enum class Kind { kText, kField, kBits, kBuiltIn };
  Kind kind = Kind::kText;
  std::size_t column = 1;  // of the brace or the first byte, 1-based
  std::string text = {};   // the text, or the name ("power", "#sequence")
  std::vector<std::string> bits = {};
  std::vector<std::size_t> bit_columns = {};
  bool high_first = false;
  NumberStyle style = {};
};

Outcome<std::vector<TemplateNode>> parse_template(std::string_view text);

}  // namespace understudy::protocol

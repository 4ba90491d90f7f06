// Builds a LineFormat from the nodes of a template: finds the fields, sees that widths fit, that
// each line can be read in one way only, and that no line can be mistaken by the framing.
// For the files of this folder; the doors are LineFormat::compile and compile_each.
#pragma once

#include <optional>
#include <set>
#include <span>
#include <string>
#include <vector>

#include "protocol/line_format.h"
#include "protocol/template_parser.h"

namespace understudy::protocol {

class FormatBuilder {
 public:
  // `options` must outlive this.
  explicit FormatBuilder(const LineFormatOptions& options) : options_(options) {}

  Outcome<LineFormat> build(std::span<const TemplateNode> nodes, std::string text);

 private:
  using Fault = std::optional<FormatError>;

  Fault add_field(const TemplateNode& node);
  Fault add_word_place(const Field& field, const TemplateNode& node);
  Fault add_number_place(const Field& field, const TemplateNode& node);
  Fault add_bits(const TemplateNode& node);
  Fault add_built_in(const TemplateNode& node);
  Fault set_style(const TemplateNode& node);
  Fault carry(std::size_t field, std::size_t column, const std::string& name);
  Fault add_check();
  Fault find_second_reading() const;
  Fault find_quarrel_with_framing() const;
  Fault find_marker_in_lines() const;
  FormatError unknown_name(const std::string& name, std::size_t column) const;
  // The bytes that may follow the item of that index; empty at the line's end.
  std::set<char> bytes_after(std::size_t index) const;
  std::set<char> first_bytes(const LineItem& item) const;
  void put_text(LineItem& item, std::string text);
  void close_place(const TemplateNode& node);
  void measure();

  const LineFormatOptions& options_;
  LineFormat format_;
  LineItem next_;                     // being made: has its text, not yet its place
  std::string pending_text_;          // fixed text since the last place
  std::vector<std::size_t> columns_;  // per item, of its brace
};

}  // namespace understudy::protocol

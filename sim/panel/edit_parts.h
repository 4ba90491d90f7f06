// Edits of controls and outputs as wholes, with every place that speaks of them: lines, `each`,
// answers. The rules are those of edit.h.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "sim/panel/edit.h"

namespace understudy {

// The tables below are TableRefs of "control" or "output".

// "bell" -> "bell_2", or the first number behind it that no control or output has.
std::string free_name(std::string_view text, std::string_view wanted);

struct NewPart {
  std::string list;  // "control" or "output"
  std::string kind;  // "pot"
  std::string name;
  bool into_line =
      true;  // as a field at the end of the first line of its direction, if there is one
};
// Adds it with its name and kind alone: all the rest has defaults. Where the line could not be read
// back with it, it is left out of the line. Errors: also where it doesn't fit (no pin is left).
Result<std::string> add_part(std::string_view text, const NewPart& part,
                             const ReadBeside& beside = {});

// Takes it out, and the fields, items of `each` with their ids, and answers that speak of it; a
// line of which no field is left goes too.
Result<std::string> remove_part(std::string_view text, const TableRef& table);

// Copies it under a free name; pins, cell and keys are left out, for the other has them, and a
// place on the face moves by 10 mm to the right and down.
Result<std::string> duplicate_part(std::string_view text, const TableRef& table);

// Gives it another name everywhere. Errors: also where the name is taken or none.
Result<std::string> rename_part(std::string_view text, const TableRef& table, std::string_view to);

// Its middle on the face, from the left and from the top.
struct FacePoint {
  std::int64_t x_um = 0;
  std::int64_t y_um = 0;
};
Result<std::string> move_part(std::string_view text, const TableRef& table, FacePoint to);

// Another kind; keys that only others have are taken out.
Result<std::string> change_kind(std::string_view text, const TableRef& table, std::string_view kind,
                                const ReadBeside& beside = {});

// The name that stands in a table; empty where there is none.
std::string name_in(std::string_view text, const TableRef& table);

}  // namespace understudy

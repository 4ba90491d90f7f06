// How a FormatError reads as a sentence.
#include "protocol/outcome.h"

namespace understudy::protocol {

std::string FormatError::sentence() const {
  std::string text;
  if (column > 0) text += "column " + std::to_string(column) + ": ";
  if (!found.empty()) text += "found " + found;
  if (!expected.empty()) text += (found.empty() ? "expected " : ", expected ") + expected;
  if (!witness.empty()) text += "; for example the line \"" + witness + "\"";
  return text;
}

}  // namespace understudy::protocol

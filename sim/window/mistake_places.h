// What parse_panel says of a wrong file, taken apart, with the line that each mistake stands in.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace understudy {

struct PlacedMistake {
  int line = 0;         // from 1; 0: the file as a whole
  int column = 0;       // from 1, in characters
  std::string text;     // the whole line of the file
  int marked = 1;       // characters from the column on that are meant: a word, a text in quotes
  std::string key;      // "manners.loop"; may be empty
  std::string message;  // "found "20", expected a time such as "20 ms""
  std::string remedy;   // what to do next; may be empty
};

// `said` is the text of the error: a line for each mistake, "FILE:LINE:COLUMN: KEY: found ..."
std::vector<PlacedMistake> placed_mistakes(std::string_view said, std::string_view file_name,
                                           std::string_view file_text);

}  // namespace understudy

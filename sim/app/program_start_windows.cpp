// The words of the command line as the system holds them, and streams without any change of line
// ends. Standard input stays text, for questions that are answered at a console.
#include <fcntl.h>
#include <io.h>
#include <stdio.h>
#include <windows.h>
// Needs what windows.h defines.
#include <shellapi.h>

#include "sim/app/program_start.h"
#include "sim/base/wide_text.h"

namespace understudy {

std::vector<std::string> start_program(int, char**) {
  _setmode(_fileno(stdout), _O_BINARY);
  _setmode(_fileno(stderr), _O_BINARY);
  setvbuf(stderr, nullptr, _IONBF, 0);
  SetConsoleOutputCP(CP_UTF8);
  SetConsoleCP(CP_UTF8);
  std::vector<std::string> arguments;
  int count = 0;
  wchar_t** words = CommandLineToArgvW(GetCommandLineW(), &count);
  for (int i = 1; i < count; ++i) arguments.push_back(narrow_text(words[i]));
  LocalFree(words);
  return arguments;
}

// No signal comes here; the write fails by itself.
void outlive_broken_pipes() {}

}  // namespace understudy

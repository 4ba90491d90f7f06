// The program: hands its words to choose(), shows what there is to show, runs the verb.
#include <cstdio>
#include <string>
#include <vector>

#include "sim/app/program.h"
#include "sim/app/program_start.h"

int main(int count, char** words) {
  const std::vector<std::string> arguments = understudy::start_program(count, words);
  const understudy::Result<understudy::Choice> choice =
      understudy::choose(arguments, understudy::all_verbs());
  if (!choice.ok()) {
    std::fputs(("understudy: " + choice.error().text + "\n").c_str(), stderr);
    return understudy::status_of(choice.error());
  }
  if (choice.value().run) return choice.value().run();
  std::fputs(choice.value().shown.c_str(), stdout);
  return understudy::kStatusFine;
}

// The program: hands its words to the table of verbs.
#include "sim/app/program.h"
#include "sim/app/program_start.h"

int main(int count, char** words) {
  return understudy::run_program(understudy::start_program(count, words), understudy::all_verbs());
}

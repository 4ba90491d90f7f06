// What the system hands a program when it starts, made alike on all systems.
#pragma once

#include <string>
#include <vector>

namespace understudy {

// Call it first in main(). Gives the words behind the program's own name, as UTF-8 where the system
// has its own idea of text. From then on the standard streams carry bytes as they are.
std::vector<std::string> start_program(int count, char** words);

// Lets a write to a pipe that nobody reads any more fail with EPIPE instead of ending the program.
void outlive_broken_pipes();

}  // namespace understudy

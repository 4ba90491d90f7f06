// A game for Windows that starts another program, says so, and waits: to see that both are ended.
//
//   parent_of_two TCP_CLIENT PLACE     the child reads lines until it is ended
#include <stdio.h>
#include <windows.h>

int main(int count, char** words) {
  if (count < 3) return 7;
  char line[1024];
  snprintf(line, sizeof line, "\"%s\" %s 0 0,0,0,0,0,0", words[1], words[2]);
  STARTUPINFOA start = {0};
  start.cb = sizeof start;
  PROCESS_INFORMATION made = {0};
  if (!CreateProcessA(NULL, line, NULL, NULL, TRUE, 0, NULL, NULL, &start, &made)) return 8;
  printf("child %lu\n", made.dwProcessId);
  fflush(stdout);
  WaitForSingleObject(made.hProcess, INFINITE);
  return 0;
}

/* A serial client by libserialport: looks ADDRESS up by name, opens it at 115200 baud, writes what
 * arrives to OUT for SECONDS, and lights the first lamp after the first good line.
 *   libserialport_client ADDRESS SECONDS OUT */
#define _DEFAULT_SOURCE /* clock_gettime */
#include <libserialport.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double seconds_now(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

/* Ends the program with the library's own words unless `result` is a success. */
static int checked(int result, const char* what) {
  if (result >= 0) return result;
  char* words = result == SP_ERR_FAIL ? sp_last_error_message() : NULL;
  fprintf(stderr, "%s: %d %s\n", what, result, words == NULL ? "" : words);
  exit(1);
}

static struct sp_port* open_port(const char* address) {
  struct sp_port* port = NULL;
  checked(sp_get_port_by_name(address, &port), "sp_get_port_by_name");
  checked(sp_open(port, SP_MODE_READ_WRITE), "sp_open");
  checked(sp_set_baudrate(port, 115200), "sp_set_baudrate");
  checked(sp_set_flowcontrol(port, SP_FLOWCONTROL_NONE), "sp_set_flowcontrol");
  checked(sp_set_dtr(port, SP_DTR_ON), "sp_set_dtr");
  enum sp_signal lines;
  checked(sp_get_signals(port, &lines), "sp_get_signals");
  return port;
}

int main(int count, char** words) {
  static const char lamps[] = "255,0,0,0,34,130\n";
  if (count != 4) return 2;
  struct sp_port* port = open_port(words[1]);
  FILE* out = fopen(words[3], "wb");
  if (out == NULL) return 1;
  const double end = seconds_now() + atof(words[2]);
  int line_ends = 0;
  while (seconds_now() < end) {
    char bytes[256];
    const int got = checked(sp_blocking_read_next(port, bytes, sizeof bytes, 100), "sp_read");
    fwrite(bytes, 1, (size_t)got, out);
    const int before = line_ends;
    for (int i = 0; i < got; ++i) line_ends += bytes[i] == '\n';
    if (before < 3 && line_ends >= 3)
      checked(sp_blocking_write(port, lamps, sizeof lamps - 1, 100), "sp_write");
  }
  fclose(out);
  checked(sp_close(port), "sp_close");
  sp_free_port(port);
  return 0;
}

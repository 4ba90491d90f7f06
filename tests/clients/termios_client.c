/* A serial client with nothing but termios, as in any textbook: opens ADDRESS at 115200 baud, raw,
 * writes what arrives to OUT for SECONDS, and lights the first lamp after the first good line. It
 * blocks in read() for at most a tenth of a second, which is VTIME's unit.
 *   termios_client ADDRESS SECONDS OUT */
#define _DEFAULT_SOURCE /* cfmakeraw, clock_gettime */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

static double seconds_now(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static int open_port(const char* address) {
  const int port = open(address, O_RDWR | O_NOCTTY);
  struct termios settings;
  if (port < 0 || tcgetattr(port, &settings) != 0) return -1;
  cfmakeraw(&settings);
  cfsetspeed(&settings, B115200);
  settings.c_cflag |= CLOCAL | CREAD;
  settings.c_cc[VMIN] = 0;
  settings.c_cc[VTIME] = 1;
  if (tcsetattr(port, TCSAFLUSH, &settings) != 0) return -1;
  return port;
}

int main(int count, char** words) {
  static const char lamps[] = "255,0,0,0,34,130\n";
  if (count != 4) return 2;
  const int port = open_port(words[1]);
  FILE* out = fopen(words[3], "wb");
  if (port < 0 || out == NULL) {
    perror(words[1]);
    return 1;
  }
  const double end = seconds_now() + atof(words[2]);
  int line_ends = 0;
  while (seconds_now() < end) {
    char bytes[256];
    const ssize_t got = read(port, bytes, sizeof bytes);
    if (got < 0) {
      perror("read");
      return 1;
    }
    fwrite(bytes, 1, (size_t)got, out);
    const int before = line_ends;
    for (ssize_t i = 0; i < got; ++i) line_ends += bytes[i] == '\n';
    if (before < 3 && line_ends >= 3 && write(port, lamps, strlen(lamps)) < 0) {
      perror("write");
      return 1;
    }
  }
  fclose(out);
  return close(port) == 0 ? 0 : 1;
}

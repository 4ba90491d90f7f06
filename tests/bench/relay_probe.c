/* Both ends of a relay, for tap_bench.py, by plain system calls.
 *   relay_probe echo             a box on a pseudo-terminal: prints its path, sends back what comes
 *   relay_probe ping PORT N      a game: N times sends one line and waits until it is back; prints
 *                                each round trip in nanoseconds, one a line
 * Linux. */
#define _GNU_SOURCE
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

static const char kLine[] = "512,300,1,0,0\n";

static long long now_ns(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return now.tv_sec * 1000000000LL + now.tv_nsec;
}

static void set_raw(int port) {
  struct termios settings;
  if (tcgetattr(port, &settings) != 0) return;
  cfmakeraw(&settings);
  cfsetspeed(&settings, B115200);
  tcsetattr(port, TCSANOW, &settings);
}

static int echo(void) {
  const int box = posix_openpt(O_RDWR | O_NOCTTY);
  if (box < 0 || grantpt(box) != 0 || unlockpt(box) != 0) return 1;
  /* Kept open, so that the port does not hang up between games. */
  const int kept = open(ptsname(box), O_RDWR | O_NOCTTY);
  set_raw(kept);
  printf("%s\n", ptsname(box));
  fflush(stdout);
  char bytes[4096];
  for (;;) {
    const ssize_t got = read(box, bytes, sizeof bytes);
    if (got <= 0 || write(box, bytes, (size_t)got) != got) return 1;
  }
}

static int ping(const char* path, long count) {
  const int port = open(path, O_RDWR | O_NOCTTY);
  if (port < 0) return 1;
  set_raw(port);
  usleep(100 * 1000); /* whoever follows the opening has done so */
  long long* took = malloc((size_t)count * sizeof *took);
  if (took == NULL) return 1;
  const size_t size = sizeof kLine - 1;
  for (long i = 0; i < count; ++i) {
    const long long begun = now_ns();
    if (write(port, kLine, size) != (ssize_t)size) return 1;
    size_t back = 0;
    char bytes[64];
    while (back < size) {
      const ssize_t got = read(port, bytes, sizeof bytes);
      if (got <= 0) return 1;
      back += (size_t)got;
    }
    took[i] = now_ns() - begun;
    usleep(500); /* as lines come: apart, not in a stream */
  }
  for (long i = 0; i < count; ++i) printf("%lld\n", took[i]);
  free(took);
  return 0;
}

int main(int count, char** words) {
  if (count == 2 && strcmp(words[1], "echo") == 0) return echo();
  if (count == 4 && strcmp(words[1], "ping") == 0) return ping(words[2], atol(words[3]));
  fputs("relay_probe echo | relay_probe ping PORT N\n", stderr);
  return 2;
}

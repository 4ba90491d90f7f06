/* A game that lowers DTR, reads the port's settings, raises DTR, and then writes back the settings
 * it had read with another speed, as many programs do. Prints whether DTR is still raised.
 * Arguments: the port's path, and the call to write with: tcsetattr, TCSETS or TCSETS2. */
#define _GNU_SOURCE
#include <fcntl.h>
#include <poll.h>
#include <stdio.h>
#include <string.h>
#include <sys/ioctl.h>
#include <termios.h>

/* The kernel's own calls and shapes for settings, ioctl_tty(2): its header excludes termios.h. */
#define SET_SETTINGS 0x5402
#define GET_SETTINGS2 _IOC(_IOC_READ, 'T', 0x2a, sizeof(struct settings2))
#define SET_SETTINGS2 _IOC(_IOC_WRITE, 'T', 0x2b, sizeof(struct settings2))
#define ANY_SPEED 0x1000
#define SPEED_BITS 0x100f
struct settings2 {
  unsigned flags[4]; /* input, output, control, local */
  unsigned char discipline;
  unsigned char characters[19];
  unsigned speeds[2];
};

/* Reads the settings, raises DTR, writes them back at 57600; 0 where all went well. */
static int raise_between(int port, const char* call, int dtr) {
  struct termios posix;
  struct settings2 kernel;
  if (tcgetattr(port, &posix) != 0 || ioctl(port, GET_SETTINGS2, &kernel) != 0) return 3;
  if (ioctl(port, TIOCMBIS, &dtr) != 0) return 4;
  if (strcmp(call, "tcsetattr") == 0) {
    cfsetspeed(&posix, B57600);
    return tcsetattr(port, TCSANOW, &posix) == 0 ? 0 : 5;
  }
  const int second = strcmp(call, "TCSETS2") == 0;
  kernel.flags[2] = (kernel.flags[2] & ~(unsigned)SPEED_BITS) | (second ? ANY_SPEED : B57600);
  kernel.speeds[0] = kernel.speeds[1] = 57600;
  return ioctl(port, second ? SET_SETTINGS2 : SET_SETTINGS, &kernel) == 0 ? 0 : 6;
}

int main(int count, char** arguments) {
  if (count < 3) return 1;
  const int port = open(arguments[1], O_RDWR | O_NOCTTY);
  int dtr = TIOCM_DTR;
  if (port < 0 || ioctl(port, TIOCMBIC, &dtr) != 0) return 2;
  poll(NULL, 0, 50); /* time for the change to be seen */
  const int failed = raise_between(port, arguments[2], dtr);
  if (failed != 0) return failed;
  poll(NULL, 0, 50);
  int lines = 0;
  if (ioctl(port, TIOCMGET, &lines) != 0) return 7;
  printf("dtr %s\n", (lines & TIOCM_DTR) != 0 ? "raised" : "low");
  return 0;
}

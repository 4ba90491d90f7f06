/* A game that uses libserialport: finds its port in the list and by name, opens it, sets a baud,
 * lowers and raises DTR, reads a line and answers. Prints what went well; ends with the number of
 * the step that failed. Argument: the port's path. */
#include <libserialport.h>
#include <stdio.h>
#include <string.h>

static int is_listed(const char* path) {
  struct sp_port** ports = NULL;
  if (sp_list_ports(&ports) != SP_OK) return 0;
  int found = 0;
  for (int i = 0; ports[i] != NULL; ++i) found |= strcmp(sp_get_port_name(ports[i]), path) == 0;
  sp_free_port_list(ports);
  return found;
}

int main(int count, char** arguments) {
  const char* path = count > 1 ? arguments[1] : "";
  struct sp_port* port = NULL;
  char line[64] = "";
  if (!is_listed(path)) return 1;
  if (sp_get_port_by_name(path, &port) != SP_OK) return 2;
  if (sp_open(port, SP_MODE_READ_WRITE) != SP_OK) return 3;
  if (sp_set_baudrate(port, 57600) != SP_OK) return 4;
  if (sp_set_dtr(port, SP_DTR_OFF) != SP_OK) return 5;
  if (sp_set_dtr(port, SP_DTR_ON) != SP_OK) return 6;
  enum sp_signal lines;
  if (sp_get_signals(port, &lines) != SP_OK) return 7;
  if (sp_blocking_write(port, "ready\n", 6, 1000) != 6) return 8;
  if (sp_blocking_read(port, line, 8, 5000) != 8) return 9;
  printf("read %s", line);
  return sp_close(port) == SP_OK ? 0 : 10;
}

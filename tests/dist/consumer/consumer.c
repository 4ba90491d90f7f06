/* Computes a check and reads a line, by the installed C header. */
#include <inttypes.h>
#include <stdio.h>

#include "protocol/understudy_protocol.h"

int main(void) {
  const understudy_field fields[] = {{"power", 0, 1023, 0, NULL}};
  const understudy_format_options options = {.text = "{power}", .fields = fields, .field_count = 1};
  char message[200];
  understudy_format* format = understudy_format_new(&options, message, sizeof message);
  if (format == NULL) return 1;
  int64_t power = 0;
  if (!understudy_decode(format, "777", 3, &power, 1, NULL, NULL)) return 1;
  understudy_format_free(format);
  uint32_t check = 0;
  if (!understudy_check("crc-16/modbus", "123456789", 9, &check)) return 1;
  printf("%" PRId64 " %04" PRIX32 "\n", power, check);
  return 0;
}

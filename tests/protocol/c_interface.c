/* A program in C that uses the C interface as a game would; compiled as C, started by
   c_interface_test.cpp. Returns 0, or the source line of what did not hold. */
#include <stdio.h>
#include <string.h>

#include "protocol/understudy_protocol.h"

#define EXPECT(condition)              \
  do {                                 \
    if (!(condition)) return __LINE__; \
  } while (0)

static const understudy_field desk[] = {
    {"power", 0,    1023, 0, NULL                               },
    {"tilt",  -100, 100,  2, NULL                               },
    {"bell",  0,    1,    0, (const char* const[]){"UP", "DOWN"}},
};

static int make_and_read(const understudy_format* format) {
  const int64_t values[3] = {512, -2, 1};
  const understudy_built_ins counts = {41, 0};
  char line[64];
  EXPECT(understudy_line_size_max(format) <= sizeof line);
  const size_t size = understudy_encode(format, values, 3, &counts, line, sizeof line);
  EXPECT(size == strlen("<41,512,-0.02,DOWN*21>"));
  EXPECT(line[0] == '<' && line[size - 1] == '>');
  EXPECT(memcmp(line + 1, "41,512,-0.02,DOWN*", 18) == 0);

  uint32_t check = 0;
  char digits[3];
  EXPECT(understudy_check("xor", line + 1, 17, &check) == 1);
  snprintf(digits, sizeof digits, "%02X", (unsigned)check);
  EXPECT(memcmp(line + 19, digits, 2) == 0);
  EXPECT(understudy_check("crc-7", line, 1, &check) == 0);

  int64_t read[3] = {0, 0, 0};
  understudy_built_ins read_counts = {0, 7};
  EXPECT(understudy_decode(format, line + 1, size - 2, read, 3, &read_counts, NULL) == 1);
  EXPECT(memcmp(read, values, sizeof read) == 0);
  EXPECT(read_counts.sequence == 41 && read_counts.uptime_ms == 7);
  EXPECT(understudy_encode(format, values, 3, NULL, line, 3) == 0);
  return 0;
}

static int explain(const understudy_format* format) {
  const char* bad = "41,2000,-0.02,DOWN*00";
  int64_t read[3];
  understudy_fault fault;
  char said[200];
  EXPECT(understudy_decode(format, bad, strlen(bad), read, 3, NULL, &fault) == 0);
  EXPECT(fault.kind != 0 && fault.field == 0 && fault.column == 4 && fault.found_bytes == 4);
  EXPECT(understudy_explain(format, &fault, bad, strlen(bad), said, sizeof said) == strlen(said));
  EXPECT(strstr(said, "found \"2000\", expected a whole number from 0 to 1023") != NULL);
  EXPECT(understudy_explain(format, &fault, bad, strlen(bad), said, 6) == 5 && said[5] == '\0');
  return 0;
}

static int split(void) {
  const char* accepts[] = {"\r\n", NULL};
  understudy_splitter* splitter = understudy_splitter_new(NULL, NULL, accepts, 0);
  EXPECT(splitter != NULL);
  const char* bytes = "12\r\n345\n6";
  size_t size = strlen(bytes), taken = 0, lines = 0;
  understudy_line line;
  while (size > 0) {
    if (understudy_splitter_take(splitter, bytes, size, &taken, &line)) {
      EXPECT(line.kind == UNDERSTUDY_LINE_WHOLE);
      EXPECT(lines == 0 ? line.size == 2 && line.last_byte == 3 : line.size == 3);
      EXPECT(memcmp(line.text, lines == 0 ? "12" : "345", line.size) == 0);
      ++lines;
    }
    bytes += taken;
    size -= taken;
  }
  EXPECT(lines == 2);
  understudy_splitter_free(splitter);
  EXPECT(understudy_splitter_new("#", "#", NULL, 0) == NULL);
  return 0;
}

int use_c_interface(void) {
  EXPECT(understudy_protocol_version() == UNDERSTUDY_PROTOCOL_VERSION);
  char message[200];
  understudy_format_options options = {.text = "{#sequence},{power},{tilt},{bell}",
                                       .fields = desk,
                                       .field_count = 3,
                                       .check_kind = "xor",
                                       .starts = "<",
                                       .ends = ">"};
  understudy_format* format = understudy_format_new(&options, message, sizeof message);
  EXPECT(format != NULL && message[0] == '\0');
  int line = make_and_read(format);
  if (line == 0) line = explain(format);
  understudy_format_free(format);
  if (line != 0) return line;

  options.text = "{powr}";
  EXPECT(understudy_format_new(&options, message, sizeof message) == NULL);
  EXPECT(strstr(message, "column 1: found `{powr}`") != NULL && strstr(message, "`power`") != NULL);
  options.text = "{power}";
  options.check_kind = "crc-7";
  EXPECT(understudy_format_new(&options, message, sizeof message) == NULL);
  understudy_format_free(NULL);
  understudy_splitter_free(NULL);
  return split();
}

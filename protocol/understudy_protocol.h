/* The line protocol for programs in C and for every language that can call C: compile a line
   format, make lines, read them, cut a stream into lines, compute checks. The same rules as
   line_format.h, splitter.h and checks.h, which explain them at length.

   Handles are opaque and made and freed in pairs. All other memory is the caller's. Texts are
   bytes with a size, not terminated, unless said otherwise. A null pointer for a text of size 0
   is fine. No call prints, aborts, throws or reads a clock. Only the functions named _new
   allocate. Thread: any number may read one format; one at a time uses one splitter. */
#ifndef UNDERSTUDY_PROTOCOL_H
#define UNDERSTUDY_PROTOCOL_H

#include <stddef.h>
#include <stdint.h>

#ifdef __cplusplus
extern "C" {
#endif

/* Counts up when a program built against an older header would misbehave. */
#define UNDERSTUDY_PROTOCOL_VERSION 1
int understudy_protocol_version(void);

/* A field; see field.h. `words` is a list of max - min + 1 terminated texts, or NULL. */
typedef struct understudy_field {
  const char* name; /* terminated */
  int64_t min;
  int64_t max;
  int decimals;
  const char* const* words;
} understudy_field;

/* What a format is compiled from. Zero-initialise; all texts are terminated; NULL = the default. */
typedef struct understudy_format_options {
  const char* text;
  const understudy_field* fields;
  size_t field_count;
  const char* check_kind;   /* "xor", "crc-16/modbus"...; NULL = no check */
  const char* check_covers; /* "text" (default) or "start and text" */
  const char* check_as;     /* default "*{HEX}" */
  const char* starts;       /* default "" */
  const char* ends;         /* default "\n" */
  size_t longest;           /* 0 = 255 */
} understudy_format_options;

typedef struct understudy_format understudy_format;

/* The format, or NULL with a terminated message in message[0 .. message_size), cut to fit. */
understudy_format* understudy_format_new(const understudy_format_options* options, char* message,
                                         size_t message_size);
void understudy_format_free(understudy_format* format); /* NULL is fine */

/* Room that understudy_encode needs, markers included. */
size_t understudy_line_size_max(const understudy_format* format);

/* Values besides the fields, for {#sequence} and {#uptime_ms}. */
typedef struct understudy_built_ins {
  uint64_t sequence;
  uint64_t uptime_ms;
} understudy_built_ins;

/* Writes a line with its markers; returns its bytes, 0 when there is no room for
   understudy_line_size_max, too few values, or a value is out of range.
   `values` follow the order of the fields. `built_ins` may be NULL (zeros). */
size_t understudy_encode(const understudy_format* format, const int64_t* values, size_t value_count,
                         const understudy_built_ins* built_ins, char* out, size_t out_size);

/* What is wrong with a line; see line_faults.h for the numbers of kind and hint. */
typedef struct understudy_fault {
  int kind; /* 0 = nothing */
  int hint;
  int place;       /* in the template, from 0 */
  int field;       /* index, or -1 */
  uint32_t column; /* from 1 */
  uint32_t found_bytes;
  uint32_t detail;
} understudy_fault;

/* Reads a line without its markers. Returns 1 when it was read, else 0 with the fault (may be
   NULL). Values of fields that the line does not carry stay as they are. */
int understudy_decode(const understudy_format* format, const char* line, size_t line_size,
                      int64_t* values, size_t value_count, understudy_built_ins* built_ins,
                      understudy_fault* fault);

/* The fault of this same line as a terminated sentence, cut to fit; returns its bytes. */
size_t understudy_explain(const understudy_format* format, const understudy_fault* fault,
                          const char* line, size_t line_size, char* out, size_t out_size);

typedef struct understudy_splitter understudy_splitter;

/* NULL texts and 0 = the defaults "", "\n" and 255; NULL is returned for an impossible framing.
   `accepts` is a list of terminated texts that ends with NULL, or NULL. */
understudy_splitter* understudy_splitter_new(const char* starts, const char* ends,
                                             const char* const* accepts, size_t longest);
void understudy_splitter_free(understudy_splitter* splitter); /* NULL is fine */

enum { UNDERSTUDY_LINE_WHOLE = 0, UNDERSTUDY_LINE_TOO_LONG = 1, UNDERSTUDY_LINE_STRAY = 2 };

/* A line; `text` is valid until the next call with this splitter or until the bytes that were
   handed in go, whichever is sooner. */
typedef struct understudy_line {
  int kind;
  const char* text;
  size_t size;
  uint64_t first_byte; /* in the stream, from 0, markers included */
  uint64_t last_byte;
} understudy_line;

/* Takes bytes up to the end of the next line. Returns 1 when there is a line, else 0; *taken is
   how many bytes were used. Call again with the rest until all are taken:

     while (size > 0) {
         if (understudy_splitter_take(splitter, bytes, size, &taken, &line)) use(&line);
         bytes += taken; size -= taken;
     } */
int understudy_splitter_take(understudy_splitter* splitter, const char* bytes, size_t size,
                             size_t* taken, understudy_line* line);

/* The check of some bytes by its written name; 1 and *value, or 0 for an unknown name. */
int understudy_check(const char* kind, const char* bytes, size_t size, uint32_t* value);

#ifdef __cplusplus
}
#endif

#endif

// The part of toml++ that is compiled once, in the way its makers give for that.
#define TOML_IMPLEMENTATION
#include <toml++/toml.h>

// Which letters come from which typeface, and at which size.
#include "sim/window/fonts.h"

#include <cmath>

// The bytes of the files, between these symbols (sim/cmake/embed.cmake).
extern "C" {
extern const unsigned char understudy_cabin_regular[];
extern const unsigned char understudy_cabin_regular_end[];
extern const unsigned char understudy_cabin_medium[];
extern const unsigned char understudy_cabin_medium_end[];
extern const unsigned char understudy_cabin_semibold[];
extern const unsigned char understudy_cabin_semibold_end[];
extern const unsigned char understudy_courier_prime[];
extern const unsigned char understudy_courier_prime_end[];
extern const unsigned char understudy_dejavu_sans[];
extern const unsigned char understudy_dejavu_sans_end[];
extern const unsigned char understudy_dejavu_mono[];
extern const unsigned char understudy_dejavu_mono_end[];
}

namespace understudy {
namespace {

struct File {
  const unsigned char* begin;
  const unsigned char* end;
};
const File kCabin = {understudy_cabin_regular, understudy_cabin_regular_end};
const File kCabinMedium = {understudy_cabin_medium, understudy_cabin_medium_end};
const File kCabinSemiBold = {understudy_cabin_semibold, understudy_cabin_semibold_end};
const File kCourierPrime = {understudy_courier_prime, understudy_courier_prime_end};
const File kDejaVuSans = {understudy_dejavu_sans, understudy_dejavu_sans_end};
const File kDejaVuMono = {understudy_dejavu_mono, understudy_dejavu_mono_end};

// Pairs of first and last letter, as ImGui wants them. Names of blocks: The Unicode Standard 15.
constexpr ImWchar kLetters[] = {
    0x0020, 0x024F,  // Basic Latin to Latin Extended-B
    0x0370, 0x03FF,  // Greek and Coptic
    0x0400, 0x045F,  // Cyrillic, without historic letters
    0x0490, 0x0493,  // Cyrillic of Ukrainian and Kazakh
    0x1E00, 0x1EFF,  // Latin Extended Additional
    0x2010, 0x2030,  // General Punctuation
    0x2032, 0x2033,  // primes
    0x2039, 0x203A,  // single angle quotation marks
    0x2044, 0x2044,  // fraction slash
    0x2070, 0x209C,  // Superscripts and Subscripts
    0x20AC, 0x20AC,  // euro sign
    0x2116, 0x2122,  // numero sign to trade mark sign
    0x2126, 0x2126,  // ohm sign
    0x2150, 0x215E,  // fractions
    0x2190, 0x21FF,  // Arrows
    0x2200, 0x2265,  // Mathematical Operators, as far as greater-than or equal to
    0x2318, 0x2318,  // place of interest sign, a key on some keyboards
    0x23CE, 0x23CE,  // return symbol
    0x2400, 0x2426,  // Control Pictures
    0x25A0, 0x25CF,  // Geometric Shapes
    0xFFFD, 0xFFFD,  // replacement character
    0};

void add(ImFontAtlas& atlas, const File& file, float pixels, bool merge, ImFont** font) {
  ImFontConfig config;
  config.FontDataOwnedByAtlas = false;
  config.MergeMode = merge;
  // Letters lie on whole pixels: sharp, and copied rather than sampled by renderers in memory.
  config.OversampleH = 1;
  config.OversampleV = 1;
  config.PixelSnapH = true;
  ImFont* added = atlas.AddFontFromMemoryTTF(const_cast<unsigned char*>(file.begin),
                                             static_cast<int>(file.end - file.begin), pixels,
                                             &config, kLetters);
  if (!merge) *font = added;
}

ImFont* add_pair(ImFontAtlas& atlas, const File& first, const File& rest, float pixels,
                 float rest_share) {
  ImFont* font = nullptr;
  const float whole = std::max(std::round(pixels), 6.0F);
  add(atlas, first, whole, false, &font);
  add(atlas, rest, std::round(whole * rest_share), true, &font);
  font->FallbackChar = 0xFFFD;
  return font;
}

}  // namespace

Typefaces bake_typefaces(ImFontAtlas& atlas, const TypefaceSizes& sizes) {
  atlas.Clear();
  atlas.Flags |= ImFontAtlasFlags_NoMouseCursors | ImFontAtlasFlags_NoBakedLines;
  atlas.TexDesiredWidth = sizes.unit > 1.3F ? 4096 : 2048;
  Typefaces type;
  type.unit = sizes.unit;
  type.text = add_pair(atlas, kCabin, kDejaVuSans, 18.0F * sizes.unit, 0.86F);
  type.heading = add_pair(atlas, kCabinSemiBold, kDejaVuSans, 19.0F * sizes.unit, 0.86F);
  type.small = add_pair(atlas, kCabin, kDejaVuSans, 15.0F * sizes.unit, 0.86F);
  type.typed = add_pair(atlas, kCourierPrime, kDejaVuMono, 19.0F * sizes.unit, 0.78F);
  type.engraved = add_pair(atlas, kCabinMedium, kDejaVuSans, sizes.engraved_px, 0.86F);
  atlas.Build();
  return type;
}

}  // namespace understudy

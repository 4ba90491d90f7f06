// Figures in words, as the text and the page show them.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sim/measure/measurement.h"

namespace understudy {

// "unseen", "used", "never used", "stuck", "held".
std::string_view word_of(ControlVerdict verdict);
// What to make of it: "stuck at 512 since 12.3 s: 4 movements by hand changed nothing"; one word
// where there is nothing more to say.
std::string verdict_in_words(const FieldFigures& field);

// Of the lines that were read (without formats: of all), 0 to 1.
std::optional<double> redundant_share(const DirectionFigures& figures);
// Lines of all kinds that could not be read; without formats: those torn.
std::int64_t wrong_lines(const DirectionFigures& figures);

// "12.3 ms", "1.04 s": three digits that count. "-" where there is nothing.
std::string time_in_words(std::optional<Duration> time);
std::string moment_in_words(std::optional<Instant> at);     // "12.304 s"
std::string percent_in_words(std::optional<double> share);  // "51.2 %"
std::string number_in_words(std::optional<double> number, int decimals);

// "+0.47 (0.23)": the drift and its standard error.
std::string drift_in_words(const RestFigures& figures);

// "signal red flashes 5 times in the second before 12.304 s; more than 3 ...": one for each lamp.
std::vector<std::string> flash_cautions(const SeatFigures& figures);
// What is to be said of a recording as a whole: cut off, bad lines, slips.
std::vector<std::string> remarks_on(const Measurement& measured);

}  // namespace understudy

// Pages in a ring; a page is spread out into buckets when its value first changes.
#include "sim/window/course.h"

#include <algorithm>
#include <limits>

namespace understudy {
namespace {

// Least above most: nothing known.
constexpr Extremes kUnknown = {std::numeric_limits<float>::infinity(),
                               -std::numeric_limits<float>::infinity()};

void widen(Extremes& extremes, const Extremes& by) {
  extremes.least = std::min(extremes.least, by.least);
  extremes.most = std::max(extremes.most, by.most);
}

}  // namespace

Course::Page& Course::page_at(std::int64_t bucket) {
  const std::int64_t number = bucket / kPageBuckets;
  const auto place = static_cast<std::size_t>(number % kPages);
  if (pages_.size() <= place) pages_.resize(place + 1);
  Page& page = pages_[place];
  if (page.number != number) page = {.number = number, .rest = kUnknown};
  return page;
}

const Course::Page* Course::page_of(std::int64_t bucket) const {
  const std::int64_t number = bucket / kPageBuckets;
  const auto place = static_cast<std::size_t>(number % kPages);
  return place < pages_.size() && pages_[place].number == number ? &pages_[place] : nullptr;
}

void Course::include(std::int64_t bucket, float value) {
  Page& page = page_at(bucket);
  if (page.buckets.empty()) {
    if (page.known && page.rest.least == value && page.rest.most == value) return;
    page.buckets.assign(kPageBuckets, page.known ? page.rest : kUnknown);
  }
  widen(page.buckets[static_cast<std::size_t>(bucket % kPageBuckets)], {value, value});
}

// The newest value in all buckets of [from, to), which are still unknown.
void Course::fill(std::int64_t from, std::int64_t to) {
  const auto value = static_cast<float>(newest_);
  while (from < to) {
    const std::int64_t page_end = (from / kPageBuckets + 1) * kPageBuckets;
    const std::int64_t end = std::min(to, page_end);
    Page& page = page_at(from);
    if (end - from == kPageBuckets) {
      page = {.number = page.number, .known = true, .rest = {value, value}};
    } else {
      if (page.buckets.empty()) page.buckets.assign(kPageBuckets, kUnknown);
      std::fill(page.buckets.begin() + from % kPageBuckets,
                page.buckets.begin() + (end - page_end + kPageBuckets), Extremes{value, value});
      // A page that rested from its first bucket to its last is kept as one pair.
      if (end == page_end &&
          std::all_of(page.buckets.begin(), page.buckets.end(), [&](const Extremes& one) {
            return one == Extremes{value, value};
          }))
        page = {.number = page.number, .known = true, .rest = {value, value}};
    }
    from = end;
  }
}

// The value before is held through all buckets up to and with this one.
void Course::hold_until(std::int64_t bucket) {
  const std::int64_t oldest = bucket - kPageBuckets * (kPages - 1);
  if (known_ && bucket > last_bucket_) fill(std::max(last_bucket_ + 1, oldest), bucket + 1);
  last_bucket_ = std::max(last_bucket_, bucket);
}

void Course::add(Instant t, std::int64_t number) {
  const std::int64_t bucket = std::max(bucket_of(t), last_bucket_);
  if (first_bucket_ < 0) first_bucket_ = bucket;
  hold_until(bucket);
  newest_ = number;
  known_ = true;
  include(bucket, static_cast<float>(number));
}

void Course::interrupt(Instant t) {
  if (!known_) return;
  hold_until(std::max(bucket_of(t), last_bucket_));
  known_ = false;
}

std::optional<Extremes> Course::over(std::int64_t first, std::int64_t count, Instant now) const {
  Extremes found = kUnknown;
  const std::int64_t end = first + count;
  if (known_ && end > last_bucket_ + 1 && first <= bucket_of(now))
    widen(found, {static_cast<float>(newest_), static_cast<float>(newest_)});
  std::int64_t at = std::max(first, first_bucket_);
  const std::int64_t stop = std::min(end, last_bucket_ + 1);
  while (at < stop) {
    const std::int64_t page_end = std::min(stop, (at / kPageBuckets + 1) * kPageBuckets);
    const Page* page = page_of(at);
    if (page != nullptr && page->buckets.empty() && page->known) widen(found, page->rest);
    if (page != nullptr && !page->buckets.empty()) {
      for (std::int64_t i = at; i < page_end; ++i)
        widen(found, page->buckets[static_cast<std::size_t>(i % kPageBuckets)]);
    }
    at = page_end;
  }
  if (first_bucket_ < 0 || found.least > found.most) return std::nullopt;
  return found;
}

std::size_t Course::memory_bytes() const {
  std::size_t bytes = pages_.capacity() * sizeof(Page);
  for (const Page& page : pages_) bytes += page.buckets.capacity() * sizeof(Extremes);
  return bytes;
}

}  // namespace understudy

#include "lifetime/observations.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace mendworth::lifetime {
namespace {

// Sorts and adds the weights of equal keys; what adds up to nothing goes.
template <class Term, class Before>
void gather(std::vector<Term>& terms, const Before& before) {
  std::sort(terms.begin(), terms.end(), before);
  std::size_t kept = 0;
  for (std::size_t i = 0; i < terms.size();) {
    Term sum = terms[i];
    for (++i; i < terms.size() && !before(sum, terms[i]); ++i) sum.weight += terms[i].weight;
    if (sum.weight != 0) terms[kept++] = sum;
  }
  terms.resize(kept);
}

void gather(std::vector<LogAge>& terms) {
  gather(terms, [](const LogAge& a, const LogAge& b) { return a.x < b.x; });
}

// x is the age itself; logarithms are cheaper after equal ones are gathered.
void take_logarithms(std::vector<LogAge>& terms, double centre) {
  for (LogAge& term : terms) term.x = std::log(term.x) - centre;
}

double log_ratio(double high, double low) {
  const double gap = high - low;
  return gap < low ? std::log1p(gap / low) : std::log(high) - std::log(low);
}

}  // namespace

void require_valid(const LifeRecord& record) {
  const auto is_age = [](double age) { return age >= 0 && age < infinity; };
  if (!is_age(record.worked_at) || !is_age(record.first_seen)) {
    throw std::invalid_argument("an age must be a number of at least 0");
  }
  if (!(record.failed_by >= record.worked_at)) {
    throw std::invalid_argument("a piece cannot have failed before an age at which it worked");
  }
  if (record.first_seen > 0 && !(record.failed_by > record.first_seen)) {
    throw std::invalid_argument("a piece that had failed by the age when it was first seen tells nothing");
  }
  if (!(record.weight > 0 && record.weight < infinity)) {
    throw std::invalid_argument("a record must stand for more than 0 pieces");
  }
}

Observations observe(const std::vector<LifeRecord>& records) {
  Observations out;
  out.first_failure = infinity;
  out.earliest_interval = infinity;
  struct Interval {
    double low, high, weight;
  };
  std::vector<Interval> intervals;
  double largest = 0;
  for (const LifeRecord& record : records) {
    const double seen = record.first_seen;
    // It was found working when first seen, whatever else is written.
    const double worked = std::max(record.worked_at, seen);
    if (record.exact()) {
      if (record.failed_by == 0) {
        out.pieces_at_zero += record.weight;
        continue;
      }
      out.failures.push_back({worked, record.weight});
      out.exact += record.weight;
      out.first_failure = std::min(out.first_failure, worked);
      out.last_failure = std::max(out.last_failure, worked);
    } else {
      if (!record.working()) {
        intervals.push_back({worked, record.failed_by, record.weight});
        out.between += record.weight;
        out.earliest_interval = std::min(out.earliest_interval, record.failed_by);
      }
      // What is known of the lower end is that it was survived, and only the time under watch counts.
      if (worked == seen) {
        if (record.working() || seen == 0) continue;
        out.truncated = true;
        continue;
      }
      out.survivors.push_back({worked, record.weight});
      out.longest_survival = std::max(out.longest_survival, worked);
    }
    largest = std::max(largest, worked);
    if (seen > 0) {
      out.truncated = true;
      out.survivors.push_back({seen, -record.weight});
    }
  }
  if (largest == 0) largest = out.earliest_interval < infinity ? out.earliest_interval : 1;
  out.centre = std::log(largest);

  gather(out.failures);
  gather(out.survivors);
  for (const LogAge& failure : out.failures) out.exact_log_ages += failure.weight * std::log(failure.x);
  take_logarithms(out.failures, out.centre);
  take_logarithms(out.survivors, out.centre);
  for (const LogAge& failure : out.failures) out.exact_sum += failure.weight * failure.x;

  out.intervals.reserve(intervals.size());
  for (const Interval& interval : intervals) {
    const double width = interval.low > 0 ? log_ratio(interval.high, interval.low) : infinity;
    out.intervals.push_back({std::log(interval.high) - out.centre, width, interval.weight});
  }
  gather(out.intervals, [](const LogInterval& a, const LogInterval& b) {
    return a.high < b.high || (a.high == b.high && a.width < b.width);
  });
  return out;
}

}  // namespace mendworth::lifetime

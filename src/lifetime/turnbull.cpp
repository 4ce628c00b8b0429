#include "lifetime/turnbull.hpp"

#include "lifetime/observations.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <compare>
#include <cstddef>

namespace mendworth::lifetime {
namespace {

constexpr double settled = 1e-10;    // no mass moves by more
constexpr double negligible = 1e-9;  // a mass that is on its way to 0
constexpr double most_terms = 1e8;   // of all rounds together

// An end of an interval of ages. At one age: a left end that includes it, a right end, a left end that
// excludes it.
struct End {
  enum Side { from, to, after };
  double age = 0;
  Side side = from;
  friend auto operator<=>(const End&, const End&) = default;
};

struct Innermost {
  End left, right;
};

// Pieces whose life lies in the innermost intervals first..last, given that it is not in those before `seen`.
struct Sighting {
  std::size_t first = 0, last = 0, seen = 0;
  double pieces = 0;
};

End left_end(const LifeRecord& record) {
  if (record.exact()) return {record.worked_at, End::from};
  return {std::max(record.worked_at, record.first_seen), End::after};
}

End right_end(const LifeRecord& record) { return {record.failed_by, End::to}; }

bool tells(const LifeRecord& record) {
  // A survivor that was never watched would only repeat its condition.
  return !record.working() || std::max(record.worked_at, record.first_seen) > record.first_seen;
}

std::vector<Innermost> innermost_intervals(const std::vector<LifeRecord>& records) {
  std::vector<End> ends;
  ends.reserve(2 * records.size());
  for (const LifeRecord& record : records) {
    if (!tells(record)) continue;
    ends.push_back(left_end(record));
    ends.push_back(right_end(record));
    if (record.first_seen > 0) ends.push_back({record.first_seen, End::to});
  }
  std::sort(ends.begin(), ends.end());
  std::vector<Innermost> out;
  for (std::size_t i = 1; i < ends.size(); ++i) {
    if (ends[i].side == End::to && ends[i - 1].side != End::to) out.push_back({ends[i - 1], ends[i]});
  }
  return out;
}

std::vector<Sighting> sightings(const std::vector<LifeRecord>& records, const std::vector<Innermost>& cells) {
  const auto at = [&cells](auto found) { return static_cast<std::size_t>(found - cells.begin()); };
  const auto first_from = [&](const End& end) {
    return at(std::lower_bound(cells.begin(), cells.end(), end,
                               [](const Innermost& cell, const End& e) { return cell.left < e; }));
  };
  const auto first_beyond = [&](const End& end) {
    return at(std::upper_bound(cells.begin(), cells.end(), end,
                               [](const End& e, const Innermost& cell) { return e < cell.right; }));
  };
  std::vector<Sighting> all;
  all.reserve(records.size());
  for (const LifeRecord& record : records) {
    if (!tells(record)) continue;
    const std::size_t seen = record.first_seen > 0 ? first_beyond({record.first_seen, End::to}) : 0;
    all.push_back({first_from(left_end(record)), first_beyond(right_end(record)) - 1, seen, record.weight});
  }
  const auto key = [](const Sighting& s) { return std::array<std::size_t, 3>{s.first, s.last, s.seen}; };
  std::sort(all.begin(), all.end(), [&key](const Sighting& a, const Sighting& b) { return key(a) < key(b); });
  std::size_t kept = 0;
  for (std::size_t i = 0; i < all.size();) {
    Sighting sum = all[i];
    for (++i; i < all.size() && key(all[i]) == key(sum); ++i) sum.pieces += all[i].pieces;
    all[kept++] = sum;
  }
  all.resize(kept);
  return all;
}

// Masses of the innermost intervals, brought towards self-consistency.
class Masses {
 public:
  Masses(const std::vector<Sighting>& seen, std::size_t cells)
      : seen_(seen), below_(cells + 1), change_(cells + 1), mass_(cells, 1 / static_cast<double>(cells)) {}

  const std::vector<double>& find() {
    const std::size_t cells = mass_.size();
    const double terms_a_round = 3 * static_cast<double>(cells + seen_.size());
    std::vector<double> once(cells), twice(cells), leap(cells);
    for (double terms = 0; terms < most_terms; terms += terms_a_round) {
      once = mass_;
      round(once);
      double moved = 0;
      for (std::size_t j = 0; j < cells; ++j) moved = std::max(moved, std::abs(once[j] - mass_[j]));
      if (moved < settled) break;
      twice = once;
      const double before = round(twice);
      double steps = 0, bends = 0;
      for (std::size_t j = 0; j < cells; ++j) {
        const double step = once[j] - mass_[j];
        const double bend = twice[j] - once[j] - step;
        steps += step * step;
        bends += bend * bend;
      }
      const double length = bends > 0 ? std::max(1.0, std::sqrt(steps / bends)) : 1.0;
      double total = 0;
      for (std::size_t j = 0; j < cells; ++j) {
        const double step = once[j] - mass_[j];
        const double bend = twice[j] - once[j] - step;
        const double far = mass_[j] + 2 * length * step + length * length * bend;
        // A leap below 0 would fix the mass at 0 for good: such masses shrink at their own pace.
        leap[j] = far > 0 ? far : twice[j];
        total += leap[j];
      }
      for (double& m : leap) m /= total;
      // The value returned is that of the masses before the round.
      if (round(leap) >= before) {
        mass_ = leap;
      } else {
        mass_ = twice;
      }
    }
    return mass_;
  }

 private:
  // One round of self-consistency; returns the log-likelihood of the masses as they came.
  double round(std::vector<double>& mass) {
    const std::size_t cells = mass.size();
    for (std::size_t j = 0; j < cells; ++j) below_[j + 1] = below_[j] + mass[j];
    std::fill(change_.begin(), change_.end(), 0.0);
    double log_likelihood = 0;
    for (const Sighting& s : seen_) {
      const double chance = s.first == s.last ? mass[s.first] : below_[s.last + 1] - below_[s.first];
      if (!(chance > 0)) return -infinity;
      change_[s.first] += s.pieces / chance;
      change_[s.last + 1] -= s.pieces / chance;
      log_likelihood += s.pieces * std::log(chance);
      if (s.seen == 0) continue;
      // For each piece that came under watch late, those that had failed before: they would be here
      // otherwise.
      const double reach = below_[cells] - below_[s.seen];
      if (!(reach > 0)) return -infinity;
      change_[0] += s.pieces / reach;
      change_[s.seen] -= s.pieces / reach;
      log_likelihood -= s.pieces * std::log(reach);
    }
    double factor = 0, total = 0;
    for (std::size_t j = 0; j < cells; ++j) {
      factor += change_[j];
      mass[j] *= std::max(factor, 0.0);
      total += mass[j];
    }
    for (double& m : mass) m /= total;
    return log_likelihood;
  }

  const std::vector<Sighting>& seen_;
  std::vector<double> below_, change_;
  std::vector<double> mass_;
};

}  // namespace

SurvivalCurve turnbull(const std::vector<LifeRecord>& records) {
  SurvivalCurve curve;
  curve.by_intervals = true;
  const std::vector<Innermost> cells = innermost_intervals(records);
  if (cells.empty()) return curve;
  const std::vector<Sighting> seen = sightings(records, cells);
  std::vector<double> mass = Masses(seen, cells.size()).find();
  double pieces = 0, total = 0;
  for (const Sighting& s : seen) pieces += s.pieces;
  for (double& m : mass) {
    if (m < negligible) m = 0;
    total += m;
  }

  double working = 0;
  for (std::size_t j = cells.size(); j-- > 0;) {
    if (std::isfinite(cells[j].right.age) && mass[j] > 0) {
      SurvivalStep step;
      step.time = cells[j].right.age;
      step.failed = pieces * mass[j] / total;
      step.working = working;
      curve.steps.push_back(step);
    }
    working += mass[j] / total;
  }
  std::reverse(curve.steps.begin(), curve.steps.end());
  return curve;
}

}  // namespace mendworth::lifetime

#include "answers/bulk_wants.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

#include "answers/bulk_fleet.hpp"
#include "answers/past_use.hpp"
#include "base/plain_number.hpp"
#include "mendworth/diagnostic.hpp"
#include "numeric/count_fit.hpp"
#include "numeric/distributions.hpp"

namespace mendworth {
namespace {

constexpr double months_per_year = 12;
constexpr int rate_points = 64;  ///< at which a range of jobs a month is taken
constexpr int most_scenarios = 12;
constexpr double most_pieces = 100'000;  ///< that a shop may want
constexpr int most_places = 20'000;      ///< of a whole fleet

/// A fleet of another size: the same share of failed ones, at least one.
FleetSize size_of(const FleetSize& known, int devices) {
  const double failed = static_cast<double>(known.failed) * devices / known.devices;
  return {devices, std::clamp(static_cast<int>(std::lround(failed)), 1, devices)};
}

class FleetWants final : public Wants {
 public:
  FleetWants(const Case& c, const FleetSize& size, const BulkSettings& settings)
      : c_(c), settings_(settings), fleet_(c, size, settings.futures, settings.seed) {}
  [[nodiscard]] std::string name() const override {
    return fmt::format("{} devices, {} with a failed part now", fleet_.size().devices, fleet_.size().failed);
  }
  [[nodiscard]] Demand pieces(std::size_t part, double years) const override {
    const auto known = pieces_.find({part, years});
    if (known != pieces_.end()) return known->second;
    return pieces_.emplace(std::pair(part, years), fleet_.failures(part, years)).first->second;
  }
  [[nodiscard]] std::vector<double> units_per_year() const override { return fleet_.mean_failures(1.0); }
  [[nodiscard]] int now(std::size_t part) const override { return fleet_.failed_now(part); }
  [[nodiscard]] int failed_devices() const override { return fleet_.size().failed; }
  [[nodiscard]] std::optional<Turned> turned() const override {
    return Turned{.key = "devices",
                  .label = "devices of the fleet",
                  .now = static_cast<double>(fleet_.size().devices),
                  .whole = true};
  }
  [[nodiscard]] std::unique_ptr<Wants> scaled(double factor) const override {
    return std::make_unique<FleetWants>(
        c_, size_of(fleet_.size(), static_cast<int>(std::lround(fleet_.size().devices * factor))), settings_);
  }
  [[nodiscard]] const Fleet* fleet() const override { return &fleet_; }

 private:
  const Case& c_;
  const BulkSettings& settings_;
  Fleet fleet_;
  mutable std::map<std::pair<std::size_t, double>, Demand>
      pieces_;  // by part and years: it takes long to work out
};

int pieces_a_job(const Case& c, std::size_t part) {
  int failed = 0;
  for (const PositionGroup& group : c.positions) {
    if (group.part == static_cast<int>(part)) failed += group.failed;
  }
  return failed == 0 ? 0 : c.bulk->pieces_per_job.value_or(failed);
}

/// Jobs come as a Poisson stream; where their rate is a range, it is averaged over.
class ShopWants final : public Wants {
 public:
  ShopWants(const Case& c, const Quantity& jobs_per_month) : c_(c), jobs_(jobs_per_month) {
    const int points = jobs_per_month.is_fixed() ? 1 : rate_points;
    for (int i = 0; i < points; ++i) {
      const double jobs = points == 1 ? jobs_per_month.base() : jobs_per_month.quantile((i + 0.5) / points);
      jobs_per_year_.push_back(jobs * months_per_year);
    }
  }
  [[nodiscard]] std::string name() const override {
    return jobs_.is_fixed()
               ? fmt::format("{} jobs a month", number_text(jobs_.base()))
               : fmt::format("{} to {} jobs a month", number_text(jobs_.low()), number_text(jobs_.high()));
  }
  [[nodiscard]] Demand pieces(std::size_t part, double years) const override {
    const int each = pieces_a_job(c_, part);
    if (each == 0) return {};
    std::vector<Demand> demands;
    for (const double jobs : jobs_per_year_) demands.push_back(Demand::poisson(jobs * years).times(each));
    return Demand::mixture(demands);
  }
  [[nodiscard]] std::vector<double> units_per_year() const override { return jobs_per_year_; }
  [[nodiscard]] std::optional<Turned> turned() const override {
    return Turned{.key = "jobs_per_month", .label = "jobs a month", .now = jobs_.base()};
  }
  [[nodiscard]] std::unique_ptr<Wants> scaled(double factor) const override {
    return std::make_unique<ShopWants>(c_, jobs_.scaled(factor));
  }

 private:
  const Case& c_;
  Quantity jobs_;
  std::vector<double> jobs_per_year_;
};

/// The pieces that a record tells of, part by part.
class RecordWants final : public Wants {
 public:
  RecordWants(const Case& c, const PastUse& use) : fits_(c.parts.size()) {
    std::size_t wanted = 0;
    for (std::size_t p = 0; p < c.parts.size(); ++p)
      wanted += static_cast<std::size_t>(pieces_a_job(c, p) > 0);
    const bool named = std::any_of(use.entries.begin(), use.entries.end(),
                                   [](const UseEntry& e) { return !e.part.empty(); });
    if (wanted > 1 && !named) {
      throw InputError({{use.source_name, 0, 0, "part",
                         fmt::format("the case wants pieces of {} parts, and no row says of which", wanted),
                         "add a column 'part' with their names"}});
    }
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
      const int each = pieces_a_job(c, p);
      if (each == 0) continue;
      const UsedMonths used = months_of(use, named ? c.parts[p].name : std::string());
      const CountFit& fit = fits_[p].emplace(fit_counts(used.months));
      shown_.push_back({.source = use.source_name,
                        .part = c.parts[p].name,
                        .from = used.from,
                        .to = used.to,
                        .months = static_cast<int>(used.months.size()),
                        .pieces = fit.rate * fit.watched,
                        .rate = fit.rate,
                        .rate_error = fit.rate_error(),
                        .deviation = std::sqrt(fit.variance()),
                        .dispersion = fit.dispersion,
                        .degrees = fit.degrees,
                        .p = fit.p,
                        .size = fit.size});
      if (jobs_per_year_.empty()) set_jobs(fit, each);
    }
  }
  explicit RecordWants(std::vector<std::optional<CountFit>> fits) : fits_(std::move(fits)) {}
  [[nodiscard]] std::string name() const override {
    std::vector<std::string> rates;
    for (const UseFit& fit : shown_) rates.push_back(fmt::format("{:.3g}", fit.rate));
    return fmt::format("{} pieces a month, from {}", fmt::join(rates, " and "),
                       shown_.empty() ? "" : shown_.front().source);
  }
  [[nodiscard]] Demand pieces(std::size_t part, double years) const override {
    return fits_[part] && years > 0 ? fits_[part]->within(years * months_per_year) : Demand();
  }
  [[nodiscard]] std::vector<double> units_per_year() const override { return jobs_per_year_; }
  [[nodiscard]] std::vector<UseFit> past_use() const override { return shown_; }
  [[nodiscard]] std::optional<Turned> turned() const override {
    return Turned{.key = "past_use", .label = "use, by that of the record", .now = 1};
  }
  [[nodiscard]] std::unique_ptr<Wants> scaled(double factor) const override {
    auto more = std::make_unique<RecordWants>(fits_);
    for (std::optional<CountFit>& fit : more->fits_) {
      if (!fit) continue;
      fit->rate *= factor;
      if (fit->size) fit->size = *fit->size * factor;  // so many times the same clumps
    }
    return more;
  }

 private:
  /// The jobs that the pieces went into, over what is not known of their rate: a gamma law.
  void set_jobs(const CountFit& fit, int pieces) {
    const double shape = fit.rate * fit.rate / (fit.rate_error() * fit.rate_error());
    for (int i = 0; i < rate_points; ++i) {
      const double rate = chi_squared_quantile((i + 0.5) / rate_points, 2 * shape) / (2 * shape) * fit.rate;
      jobs_per_year_.push_back(rate / pieces * months_per_year);
    }
  }

  std::vector<std::optional<CountFit>> fits_;  // by part
  std::vector<UseFit> shown_;
  std::vector<double> jobs_per_year_;
};

[[noreturn]] void refuse(const Case& c, const std::string& key, const std::string& message,
                         const std::string& remedy) {
  throw InputError({{c.source_name, 0, 0, key, message, remedy}});
}

std::vector<FleetSize> sizes_of(const Case& c, const BulkSettings& settings) {
  const Bulk& bulk = *c.bulk;
  std::vector<FleetSize> sizes;
  if (settings.devices.empty()) sizes.push_back({*bulk.devices, bulk.failed});
  for (const int devices : settings.devices) sizes.push_back(size_of({*bulk.devices, bulk.failed}, devices));
  int places = 0;
  for (const PositionGroup& group : c.positions) places += group.count;
  for (const FleetSize& size : sizes) {
    if (static_cast<double>(size.devices) * places <= most_places) continue;
    refuse(c, "bulk.devices",
           fmt::format("{} devices with {} positions each; a fleet may have {} positions in all",
                       size.devices, places, number_text(most_places)),
           "ask for a part of the fleet");
  }
  return sizes;
}

/// A shop's demand must stay within what is worth a table.
void check_jobs(const Case& c, const BulkSettings& settings) {
  if (c.bulk->devices) return;
  double jobs = settings.jobs.empty() && !settings.past_use ? c.bulk->jobs_per_month->high() : 0;
  for (const double asked : settings.jobs) jobs = std::max(jobs, asked);
  double years = settings.until.value_or(0.0);
  for (const Part& part : c.parts) {
    const double shelf = part.shelf_life_years.base();
    years = std::max(years, std::min(c.bulk->years.value_or(shelf), shelf));
  }
  int each = c.bulk->pieces_per_job.value_or(1);
  for (const PositionGroup& group : c.positions) each = std::max(each, group.failed);
  if (jobs * months_per_year * years * each <= most_pieces) return;
  refuse(c, "bulk.jobs_per_month",
         fmt::format("{} jobs a month with {} pieces each come to more than {} pieces in {} years",
                     number_text(jobs), each, number_text(most_pieces), number_text(years)),
         "ask about a shorter time, or about less");
}

}  // namespace

std::vector<std::unique_ptr<Wants>> wants_of(const Case& c, const BulkSettings& settings) {
  if (!c.bulk)
    refuse(c, "bulk", "the case has no section [bulk]",
           "add [bulk] with devices = 40 and failed = 9, or with jobs_per_month = 6");
  if (c.parts.empty() || c.suppliers.empty())
    refuse(c, "bulk", "the case buys no parts", "a part needs an offer of a supplier");
  if (!settings.devices.empty() && !c.bulk->devices)
    refuse(c, "bulk.devices", "the case is about a shop, and other sizes of a fleet are asked for",
           "ask for other --jobs-per-month");
  if (!settings.jobs.empty() && c.bulk->devices)
    refuse(c, "bulk.jobs_per_month", "the case is about a fleet, and other numbers of jobs are asked for",
           "ask for other --devices");
  if (settings.past_use && c.bulk->devices)
    refuse(c, "bulk.devices", "the case is about a fleet, whose need follows from its devices' lives",
           "a record of past use is for a shop: state jobs_per_month");
  if (settings.devices.size() > most_scenarios || settings.jobs.size() > most_scenarios)
    refuse(c, "bulk", fmt::format("more than {} demands side by side", most_scenarios),
           "ask for fewer at a time");
  std::vector<std::unique_ptr<Wants>> wants;
  if (c.bulk->devices) {
    for (const FleetSize& size : sizes_of(c, settings))
      wants.push_back(std::make_unique<FleetWants>(c, size, settings));
    return wants;
  }
  check_jobs(c, settings);
  for (const double jobs : settings.jobs)
    wants.push_back(std::make_unique<ShopWants>(c, Quantity::exactly(jobs)));
  if (settings.past_use) wants.push_back(std::make_unique<RecordWants>(c, *settings.past_use));
  if (wants.empty()) wants.push_back(std::make_unique<ShopWants>(c, *c.bulk->jobs_per_month));
  return wants;
}

}  // namespace mendworth

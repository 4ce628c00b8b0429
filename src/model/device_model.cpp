#include "model/device_model.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <string_view>

#include "domain/inputs.hpp"

namespace mendworth {
namespace {

/// Ranges of ln(rated life / wear) begin and end on a lattice, so that devices of other ages share what is worked out.
constexpr double z_lattice = 0.16;
constexpr double fit_spacing = 0.08;
constexpr int most_fit_points = 129;

bool same_prior(const LifePrior& a, const LifePrior& b) {
  return a.unit == b.unit && a.rated_life == b.rated_life && a.failed_at_rated == b.failed_at_rated &&
         a.life_spread == b.life_spread && a.shape == b.shape && a.shape_spread == b.shape_spread;
}

bool same_evidence(const std::vector<WearEvidence>& a, const std::vector<WearEvidence>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const WearEvidence& x, const WearEvidence& y) {
    return x.ratio == y.ratio && x.failed == y.failed && x.count == y.count &&
           x.watched_from == y.watched_from;
  });
}

Quantity use_quantity(const Device& device, LifeUnit unit) {
  switch (unit) {
    case LifeUnit::cycles: return device.use_per_day.value_or(Quantity::exactly(1.0));
    case LifeUnit::hours: return device.hours_per_day.value_or(Quantity::exactly(1.0));
    case LifeUnit::years: break;
  }
  return Quantity::exactly(1.0 / days_per_year);
}

/// Wear so far relative to the busiest original, at base. Only wear speaks about the mates: another cause says
/// nothing, but survivors have survived whatever the cause.
std::vector<WearEvidence> evidence_of(const Case& c, int part, double mate_wear) {
  std::vector<WearEvidence> evidence;
  const double age = c.device.age_years.base();
  // Part of the wear so far that came before the device was bought used.
  const double unseen = c.device.bought_used_years_ago
                            ? std::max(0.0, 1.0 - c.device.bought_used_years_ago->base() / age)
                            : 0.0;
  for (const auto& group : c.positions) {
    if (group.part != part) continue;
    const double share = group.share.base();
    const int survivors = group.count - group.failed - group.renewed;
    if (group.failed > 0 && c.fault.cause == Cause::wear) {
      evidence.push_back(
          {.ratio = share, .failed = true, .count = group.failed, .watched_from = share * unseen});
    }
    if (survivors > 0) {
      const double wear = share * mate_wear;
      evidence.push_back({.ratio = wear, .failed = false, .count = survivors, .watched_from = wear * unseen});
    }
    if (group.renewed > 0) {
      evidence.push_back(
          {.ratio = share * group.renewed_years_ago.base() / age, .failed = false, .count = group.renewed});
    }
  }
  return evidence;
}

/// Adds to what a cache keeps. What came first is asked for most: it stays when the rest has to go.
template <class Entry>
void keep(std::vector<Entry>& entries, Entry entry) {
  constexpr std::size_t most = 512;
  if (entries.size() == most) entries.erase(entries.begin() + most / 2, entries.end());
  entries.push_back(std::move(entry));
}

/// FNV-1a, with the highest bits left for what is no entry.
std::uint64_t hash_of(std::string_view text) {
  std::uint64_t hash = 14695981039346656037U;
  for (const char c : text) hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211U;
  return hash | (std::uint64_t{1} << 63U);
}

}  // namespace

double use_per_year(const Device& device, LifeUnit unit) {
  return use_quantity(device, unit).base() * days_per_year;
}

double PartLife::log_fit_at(double z) const noexcept {
  if (log_fit.empty()) return 0.0;
  const auto last = static_cast<double>(log_fit.size() - 1);
  const double place = std::clamp((z - z_low) / z_step, 0.0, last);
  const auto below = std::min(static_cast<std::size_t>(place), log_fit.size() - 2);
  const double part = place - static_cast<double>(below);
  return log_fit[below] + part * (log_fit[below + 1] - log_fit[below]);
}

std::shared_ptr<const WearLaw> ModelCache::wear(const DeviceModel& model) {
  std::vector<Quantity> wear = {model.c.device.age_years, model.c.device.use_per_day.value_or(Quantity{}),
                                model.c.device.hours_per_day.value_or(Quantity{})};
  for (const auto& part : model.c.parts) wear.push_back(part.life.rated_life);
  {
    const std::scoped_lock lock(mutex_);
    for (const auto& entry : wears_) {
      if (entry.wear == wear && entry.lives == model.lives) return entry.value;
    }
  }
  auto value = std::make_shared<const WearLaw>(model);
  const std::scoped_lock lock(mutex_);
  keep(wears_, {std::move(wear), model.lives, value});
  return value;
}

std::shared_ptr<const PartLife> ModelCache::life(const LifePrior& prior,
                                                 const std::vector<WearEvidence>& evidence, double z_low,
                                                 double z_high) {
  if (z_low < z_high) {
    z_low = z_lattice * std::floor(z_low / z_lattice);
    z_high = z_lattice * std::ceil(z_high / z_lattice);
  }
  {
    const std::scoped_lock lock(mutex_);
    for (const auto& entry : lives_) {
      if (entry.z_low == z_low && entry.z_high == z_high && same_prior(entry.prior, prior) &&
          same_evidence(entry.evidence, evidence)) {
        return entry.value;
      }
    }
  }
  PartLife life;
  life.posterior = std::make_shared<const LifePosterior>(prior, evidence, z_low, z_high);
  if (z_low < z_high && !evidence.empty()) {
    life.z_low = z_low;
    const int steps =
        static_cast<int>(std::clamp(std::ceil((z_high - z_low) / fit_spacing), 1.0, most_fit_points - 1.0));
    life.z_step = (z_high - z_low) / steps;
    for (int i = 0; i <= steps; ++i)
      life.log_fit.push_back(life.posterior->log_marginal(z_low + i * life.z_step));
    const double best = *std::max_element(life.log_fit.begin(), life.log_fit.end());
    for (double& fit : life.log_fit) fit -= best;
  }
  auto value = std::make_shared<const PartLife>(std::move(life));
  const std::scoped_lock lock(mutex_);
  keep(lives_, {prior, evidence, z_low, z_high, value});
  return value;
}

std::shared_ptr<const Sampler> ModelCache::sampler(const Quantity& quantity) {
  {
    const std::scoped_lock lock(mutex_);
    for (const auto& [known, sampler] : samplers_) {
      if (known == quantity) return sampler;
    }
  }
  auto made = std::make_shared<const Sampler>(quantity);
  const std::scoped_lock lock(mutex_);
  keep(samplers_, {quantity, made});
  return made;
}

std::shared_ptr<const ChainCourse> ModelCache::chain_course(const Replacement& r,
                                                            const std::optional<Quantity>& need,
                                                            double rate) {
  {
    const std::scoped_lock lock(mutex_);
    for (const auto& entry : chains_) {
      if (entry.life == r.life_years && entry.shape == r.life_shape && entry.need == need &&
          entry.rate == rate)
        return entry.value;
    }
  }
  auto made = std::make_shared<const ChainCourse>(r, need, rate);
  const std::scoped_lock lock(mutex_);
  keep(chains_, {r.life_years, r.life_shape, need, rate, made});
  return made;
}

DeviceModel DeviceModel::make(const Case& c, const Hypothesis& hypothesis, ModelCache& cache) {
  DeviceModel model;
  model.c = c;
  model.hypothesis = hypothesis;
  model.positions = positions_of(c);

  for (int p = 0; p < static_cast<int>(c.parts.size()); ++p) {
    const auto& life = c.parts[static_cast<std::size_t>(p)].life;
    auto evidence =
        hypothesis.no_evidence ? std::vector<WearEvidence>{} : evidence_of(c, p, hypothesis.mate_wear);
    const auto use = use_quantity(c.device, life.unit).scaled(days_per_year);
    const auto& age = c.device.age_years;
    const double z_low = std::log(life.rated_life.low() / (age.high() * use.high()));
    const double z_high = std::log(life.rated_life.high() / (age.low() * use.low()));
    model.lives.push_back(cache.life(life, evidence, z_low, z_high));
    for (const auto& e : evidence) model.failures_by_wear += e.failed ? e.count : 0;
    model.evidence.push_back(std::move(evidence));
  }

  for (const auto& part : c.parts) {
    for (const auto& candidate : part.candidates) model.windows.push_back(fit_windows(part, candidate));
    if (part.candidates.empty()) model.windows.emplace_back();
  }

  int ordinal = 0;
  std::map<std::string, int, std::less<>> lanes;
  for_each_input(c, [&](const std::string& key, const Input& input, const Quantity& quantity) {
    const std::string_view thing = std::string_view(key).substr(0, key.rfind('.'));
    auto counted = lanes.find(thing);
    if (counted == lanes.end()) counted = lanes.emplace(thing, 0).first;
    const int lane = counted->second++;
    // Interest is a choice, not luck; how long a device bought lasts is integrated out.
    const BearsOn on = input.bears_on;
    if (!quantity.is_fixed() && on != BearsOn::prospect) {
      const bool is_price = bears_on_price(on);
      model.uncertain.push_back({.ordinal = ordinal,
                                 .block = hash_of(thing),
                                 .lane = lane,
                                 .sampler = cache.sampler(quantity),
                                 .is_price = is_price,
                                 .bears_on_wear = on == BearsOn::wear});
      model.price_uncertain = model.price_uncertain || is_price;
      model.purchase_uncertain = model.purchase_uncertain || on == BearsOn::purchase;
    }
    ++ordinal;
  });
  std::stable_sort(
      model.uncertain.begin(), model.uncertain.end(), [](const Uncertain& a, const Uncertain& b) {
        const auto rank = [](const Uncertain& u) { return u.bears_on_wear ? 0 : u.is_price ? 2 : 1; };
        return rank(a) < rank(b);
      });
  if (!model.uncertain.empty() && model.uncertain.front().bears_on_wear) model.wear = cache.wear(model);
  return model;
}

}  // namespace mendworth

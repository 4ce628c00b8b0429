#include "answers/knowing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <deque>
#include <initializer_list>

#include "answers/labels.hpp"
#include "domain/inputs.hpp"
#include "futures/redraws.hpp"
#include "numeric/value_of_information.hpp"

namespace mendworth {
namespace {

constexpr int most_futures_known = 2048;
constexpr int fewest_redrawn = 192, most_redrawn = 512,
              redrawn_in_all = 4096;  // of all ranges that bear on events
constexpr std::size_t most_options = 5, most_variants = 3;
constexpr int most_blocks = 32;

/// The options that knowing more may turn to: the two that are compared, and those of least cost.
std::vector<std::vector<double>> net_benefits(const Contest& contest, std::size_t repair,
                                              std::size_t replacement, std::size_t futures,
                                              const std::vector<std::vector<double>>& more) {
  const auto means = contest.mean_costs();
  std::vector<std::size_t> chosen{repair, replacement}, others;
  for (std::size_t i = 0; i < contest.options.size(); ++i) {
    if (i != repair && i != replacement) others.push_back(i);
  }
  std::stable_sort(others.begin(), others.end(),
                   [&](std::size_t a, std::size_t b) { return means[a] < means[b]; });
  for (const std::size_t i : others) {
    if (chosen.size() < most_options) chosen.push_back(i);
  }
  std::vector<std::vector<double>> benefits;
  const auto add = [&](const std::vector<double>& costs) {
    benefits.emplace_back();
    for (std::size_t f = 0; f < futures; ++f) benefits.back().push_back(-costs[f]);
  };
  for (const std::size_t i : chosen) add(contest.ensemble.spread(i));
  for (const auto& costs : more) add(costs);
  return benefits;
}

/// What may be ordered once it is known which candidates fit: the same repair with another candidate of a part first.
/// Enters the orders.
std::vector<Option> variants_of(const Contest& contest, const Option& repair, OrderBook& book) {
  const Case& c = contest.model.c;
  const auto pieces = contest.pieces_of(repair.plan);
  std::vector<Option> variants;
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    const Supply& supply = repair.plan.supplies[p];
    if (supply.first_pieces == 0 || !may_misfit(contest.model, p)) continue;
    for (int k = 0; k < static_cast<int>(c.parts[p].candidates.size()); ++k) {
      const bool on_hand = c.parts[p].candidates[static_cast<std::size_t>(k)].on_hand > 0;
      if (k == supply.candidate || on_hand || variants.size() == most_variants) continue;
      std::vector<Need> needs;
      for (std::size_t q = 0; q < c.parts.size(); ++q) {
        const Supply& other = repair.plan.supplies[q];
        const int part = static_cast<int>(q);
        if (q == p) {
          needs.push_back({.part = part, .candidate = k, .pieces = pieces[p]});
          continue;
        }
        if (other.first_pieces > 0)
          needs.push_back({.part = part, .candidate = other.candidate, .pieces = other.first_pieces});
        if (other.hedge_pieces > 0)
          needs.push_back({.part = part, .candidate = other.hedge_candidate, .pieces = other.hedge_pieces});
      }
      auto order = cheapest_order(c, needs, c.downtime.per_day.base(), Parcel::with_other_goods);
      if (!order) continue;
      Option variant = repair;
      Supply& changed = variant.plan.supplies[p];
      changed = {.candidate = k, .trial = {k}};
      for (const OrderItem& item : order->items) {
        if (item.part == static_cast<int>(p)) changed.first_pieces += item.quantity;
      }
      for (const int tried : supply.trial) {
        if (tried != k) changed.trial.push_back(tried);
      }
      variant.plan.first_order = book.enter(std::move(*order));
      variants.push_back(std::move(variant));
    }
  }
  return variants;
}

/// The ranges that the contest's futures drew, with what the variants cost in them.
DrawnValues drawn_in(const Contest& contest, const Option& repair, std::uint64_t seed, int futures) {
  OrderBook book = contest.book;
  const auto variants = variants_of(contest, repair, book);
  const Items items(contest.model.c, book.size());
  return drawn_values({contest.model, items, book, contest.chains}, variants, seed, futures);
}

/// "true stem height of button", "whether a new button fits"
std::string fit_label(const Part& part) {
  if (part.dimensions.empty()) return fmt::format("whether a new {} fits", part.name);
  std::vector<std::string> names;
  for (const Dimension& dimension : part.dimensions) names.push_back(dimension.name);
  return fmt::format("true {} of {}", fmt::join(names, ", "), part.name);
}

/// A price drawn anew costs little, an event a run.
int redrawn_futures(const DeviceModel& model) {
  const auto runs = std::count_if(model.uncertain.begin(), model.uncertain.end(),
                                  [](const DeviceModel::Uncertain& range) { return !range.is_price; });
  return std::clamp(redrawn_in_all / (1 + static_cast<int>(runs)), fewest_redrawn, most_redrawn);
}

class KnowingAnswer {
 public:
  KnowingAnswer(const Contest& contest, std::size_t repair, std::size_t replacement,
                const WeighSettings& settings)
      : contest_(contest),
        futures_(
            std::min(static_cast<std::size_t>(most_futures_known), contest.ensemble.spread(repair).size())),
        drawn_(drawn_in(contest, contest.options[repair], settings.seed, static_cast<int>(futures_))),
        decision_(net_benefits(contest, repair, replacement, futures_, drawn_.costs)) {
    const auto &bought = contest.ensemble.spread(replacement), &mended = contest.ensemble.spread(repair);
    for (std::size_t f = 0; f < futures_; ++f) saving_.push_back(bought[f] - mended[f]);
    const auto futures = static_cast<int>(futures_);
    anew_ = redraws(contest.scene(), {contest.options[replacement], contest.options[repair]}, settings.seed,
                    std::min(redrawn_futures(contest.model), futures));
    add_ranges();
    add_fits(contest.pieces_of(contest.options[repair].plan));
    add_luck();
    const Estimate foresight = value_of_knowing_all(decision_);
    found_.foresight = foresight.value;
    found_.foresight_error = foresight.error;
    add_groups();
    found_.futures = futures;
    found_.total_futures = static_cast<int>(anew_.as_drawn.size());
    double mean = 0, squares = 0;
    for (const double saving : saving_) mean += saving / static_cast<double>(futures_);
    for (const double saving : saving_) squares += (saving - mean) * (saving - mean);
    found_.deviation = std::sqrt(squares / static_cast<double>(futures_ - 1));
  }

  [[nodiscard]] Knowing answer() {
    const auto worth = [](const KnowingRow& row) { return row.is_worth_something() ? row.worth : 0.0; };
    std::stable_sort(found_.inputs.begin(), found_.inputs.end() - 1,
                     [&](const KnowingRow& a, const KnowingRow& b) {
                       if (worth(a) != worth(b)) return worth(a) > worth(b);
                       return std::max(a.total, a.first) > std::max(b.total, b.first);
                     });
    return std::move(found_);
  }

 private:
  void add(KnowingRow row, const std::vector<double>& values, bool depends, const Estimate& total) {
    Blocks blocks = Blocks::cut(values, most_blocks);
    const Estimate first = first_order_share(blocks, saving_);
    influences_.emplace_back(decision_, std::move(blocks), depends);
    const Estimate worth = value_of_knowing(decision_, {&influences_.back()});
    row.first = std::max(0.0, first.value);
    row.first_error = first.error;
    row.total = total.value;
    row.total_error = total.error;
    row.worth = worth.value;
    row.worth_error = worth.error;
    found_.inputs.push_back(std::move(row));
  }

  void add_ranges() {
    const Case& c = contest_.model.c;
    std::vector<std::string> keys;
    for_each_quantity(c, [&](const std::string& key, const Quantity&) { keys.push_back(key); });
    for (std::size_t i = 0; i < contest_.model.uncertain.size(); ++i) {
      const auto& range = contest_.model.uncertain[i];
      const std::string& key = keys[static_cast<std::size_t>(range.ordinal)];
      add({.key = key, .label = label_of(c, key), .found_out = input_of(key).found_out}, drawn_.ranges[i],
          range.bears_on_wear, total_share(anew_.as_drawn, anew_.range_anew[i]));
    }
  }

  /// What is measured on the device is luck to its owner until it is.
  void add_fits(const std::vector<int>& pieces) {
    const Case& c = contest_.model.c;
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
      if (pieces[p] == 0 || drawn_.fits[p].empty()) continue;
      add({.key = "fit." + c.parts[p].name, .label = fit_label(c.parts[p]), .found_out = FoundOut::look},
          drawn_.fits[p], false, total_share(anew_.as_drawn, anew_.fit_anew[p]));
    }
  }

  void add_luck() {
    const Estimate first = shared_share(anew_.as_drawn, anew_.ranges_anew);
    const Estimate total = total_share(anew_.as_drawn, anew_.luck_anew);
    found_.inputs.push_back({.key = "luck",
                             .label = "luck: lives, damage, what else no number tells",
                             .first = std::max(0.0, first.value),
                             .first_error = first.error,
                             .total = total.value,
                             .total_error = total.error});
  }

  void add_group(const std::string& name, std::initializer_list<FoundOut> by) {
    KnowingGroup group;
    group.name = name;
    std::vector<const Influence*> members;
    Estimate most;
    for (std::size_t i = 0; i < influences_.size(); ++i) {
      const KnowingRow& row = found_.inputs[i];
      if (by.size() > 0 && std::find(by.begin(), by.end(), row.found_out) == by.end()) continue;
      group.keys.push_back(row.key);
      members.push_back(&influences_[i]);
      if (row.worth > most.value) most = {row.worth, row.worth_error};
    }
    if (members.empty()) return;
    // Who knows more decides no worse, so a group is worth at least what each part of it is.
    Estimate worth = members.size() == 1 ? most : value_of_knowing(decision_, members);
    for (const KnowingGroup& within : found_.groups) {
      const bool is_part = std::all_of(within.keys.begin(), within.keys.end(), [&](const std::string& key) {
        return std::find(group.keys.begin(), group.keys.end(), key) != group.keys.end();
      });
      if (is_part && within.worth > most.value) most = {within.worth, within.worth_error};
    }
    if (worth.value < most.value) worth = most;
    group.worth = std::min(worth.value, std::max(found_.foresight, most.value));
    group.worth_error = worth.error;
    found_.groups.push_back(std::move(group));
  }

  void add_groups() {
    add_group("owner", {FoundOut::owner});
    add_group("look", {FoundOut::look});
    add_group("asking", {FoundOut::asking});
    add_group("before-ordering", {FoundOut::owner, FoundOut::look, FoundOut::asking});
    add_group("record", {FoundOut::record});
    add_group("all", {});
  }

  const Contest& contest_;
  std::size_t futures_;
  DrawnValues drawn_;
  Decision decision_;
  std::vector<double> saving_;
  Redraws anew_;
  std::deque<Influence> influences_;  // of the inputs, in their order
  Knowing found_;
};

}  // namespace

Knowing knowing_of(const Contest& contest, std::size_t repair, std::size_t replacement,
                   const WeighSettings& settings) {
  return KnowingAnswer(contest, repair, replacement, settings).answer();
}

}  // namespace mendworth

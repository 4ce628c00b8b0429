#include "futures/run.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace mendworth {
namespace {

// Nobody goes on like that; the limit only keeps an absurd case from running for ever.
constexpr int most_later_visits = 1000;

bool devices_item(const Items& items, int item) {
  return !items.devices.empty() && item >= items.devices.front().device[Phase::first] &&
         item < items.first_order();
}

}  // namespace

Runner::Runner(const Scene& scene) : scene_(scene) {
  due_.resize(scene.model.positions.size());
  renewals_.resize(due_.size());
  stocks_.resize(scene.model.c.parts.size());
  pieces_.resize(stocks_.size());
}

double Runner::worth_at(double t) {
  if (t == 0) return 1.0;
  if (t != worth_of_) {
    worth_of_ = t;
    worth_ = std::exp(-future_->physics().log_growth * t);
  }
  return worth_;
}

void Runner::add(int item, double amount, double t) {
  const double part =
      amount * (wishes_.drawn_cost != nullptr ? prices_->steady_total(item) : prices_->total(item));
  cost_ += part;
  if (wishes_.drawn_cost != nullptr) *wishes_.drawn_cost += amount * prices_->total(item);
  if (!tally_->items.empty()) book(item, amount, part, t);
}

void Runner::book(int item, double amount, double part, double t) {
  const UnitCost& unit = wishes_.drawn_cost != nullptr ? prices_->steady(item) : prices_->at(item);
  if (wishes_.amounts != nullptr) wishes_.amounts->add(item, future_->number(), amount);
  auto& sum = tally_->items[static_cast<std::size_t>(item)];
  sum.amount += amount;
  sum.money += amount * unit.money;
  sum.labour += amount * unit.labour;
  sum.downtime += amount * unit.downtime;
  if (wishes_.timeline == nullptr || devices_item(scene_.items, item)) return;
  const auto bin = static_cast<std::size_t>(t / wishes_.timeline->step);
  if (bin >= wishes_.timeline->cost.size()) return;
  wishes_.timeline->cost[bin] += part;
  // Once discounted to nought it cannot be told.
  if (const double worth = worth_at(t); worth > 0)
    wishes_.timeline->money[bin] += amount * unit.money / worth;
}

void Runner::add_flow(int item, double from, double to) {
  if (to <= from) return;
  const double growth = future_->physics().log_growth;
  const auto worth = [growth, this](double a, double b) {
    return std::abs(growth) < 1e-12 ? b - a : (worth_at(a) - worth_at(b)) / growth;
  };
  const double step = wishes_.timeline == nullptr ? to - from : wishes_.timeline->step;
  const double seen = wishes_.timeline == nullptr
                          ? to
                          : std::min(to, step * static_cast<double>(wishes_.timeline->cost.size()));
  double a = from;
  while (a < seen && wishes_.timeline != nullptr) {
    const double b = std::min(seen, (std::floor(a / step + 1e-9) + 1.0) * step);
    add(item, worth(a, b), a);
    a = b;
  }
  if (a < to) add(item, worth(a, to), a);
}

int Runner::flat(int part, int candidate) const {
  return future_->physics().first_candidate[static_cast<std::size_t>(part)] + candidate;
}

double Runner::run(const Option& option, Future& future, PriceList& prices, Tally& tally,
                   const RunWishes& wishes) {
  future_ = &future;
  prices_ = &prices;
  wishes_ = wishes;
  worth_of_ = 0;
  worth_ = 1;
  tally_ = &tally;
  cost_ = 0;
  if (wishes_.drawn_cost != nullptr) *wishes_.drawn_cost = 0;
  counts_ = Tally::Counts{};
  visits_ = later_ = 0;
  jobs_done_ = opened_ = scene_.model.c.labour.done_before;
  any_damage_ = false;
  switch (option.kind) {
    case OptionKind::repair:
    case OptionKind::licensed_repair: repair(option); break;
    case OptionKind::replacement: buy_device(option.replacement); break;
    case OptionKind::leave: leave(); break;
    case OptionKind::claim: break;
  }
  tally.cost += cost_;
  tally.costs[future.number() % randomisations] += cost_;
  tally.counts.add(counts_);
  if (wishes_.trace != nullptr) wishes_.trace->cost = cost_;
  return cost_;
}

void Runner::buy_device(int replacement) {
  const auto& item = scene_.items.devices[static_cast<std::size_t>(replacement)];
  const double end = future_->physics().end;
  const Chains::Bought bought = scene_.chains.bought(replacement, end);
  add(scene_.items.scrap, 1.0, 0.0);
  add(scene_.items.keepsake, 1.0, 0.0);
  add(item.device[Phase::first], 1.0, 0.0);
  add(item.benefit, bought.benefit, 0.0);
  if (bought.resale != 0.0) add(item.resale, bought.resale, end);
  counts_.replaced = bought.replaced;
  if (scene_.chains.best() < 0) return;
  const auto& next = scene_.items.devices[static_cast<std::size_t>(scene_.chains.best())];
  add(next.device[Phase::later], bought.after.first + bought.after.later, 0.0);
  add(next.benefit, bought.after.benefit, 0.0);
  if (bought.after.resale != 0.0) add(next.resale, bought.after.resale, end);
}

void Runner::leave() {
  const double end = future_->physics().end;
  add_flow(scene_.items.burden, 0.0, std::min(future_->rest_end(), end));
  if (future_->rest_end() < end) {
    give_up(future_->rest_end(), Phase::later, Outcome::lost);
  } else {
    add(scene_.items.scrap, worth_at(end), end);
  }
}

void Runner::repair(const Option& option) {
  const RepairPlan& plan = option.plan;
  const bool licensed = option.kind == OptionKind::licensed_repair;
  const auto& physics = future_->physics();
  due_ = future_->failures();
  std::fill(renewals_.begin(), renewals_.end(), 0);
  walked_to_ = 0;
  for (std::size_t p = 0; p < stocks_.size(); ++p) {
    auto& stock = stocks_[p];
    stock = Stock{};
    stock.candidate = plan.supplies[p].candidate;
    stock.tried = 1;
    stock.usable_until = physics.parts[p].shelf_life_years;
    stock.spares = plan.supplies[p].first_pieces;
    stock.fit_known = wishes_.all_well_now;
  }
  if (!licensed) {
    add(scene_.items.case_work, 1.0, 0.0);
    if (plan.first_order >= 0)
      add(scene_.items.orders[static_cast<std::size_t>(plan.first_order)][Phase::first], 1.0, 0.0);
    open_drawer(plan);
  }

  renew_ = plan.renew_now;
  Outcome outcome = licensed ? licensed_visit(0.0, renew_) : visit(plan, 0.0, renew_);
  if (any_damage_) counts_.damaged = 1;
  if (plan.returns_only) keep_due_only(plan.renew_now);
  if (outcome == Outcome::works) {
    counts_.cured = 1;
  } else {
    give_up(0.0, Phase::luck, outcome);
  }

  while (outcome == Outcome::works) {
    const double next = *std::min_element(due_.begin(), due_.end());
    const double end = future_->rest_end();
    if (std::min(next, end) >= physics.end) {
      add(scene_.items.resale, worth_at(physics.end), physics.end);
      break;
    }
    if (later_ == most_later_visits) counts_.endless = 1;
    if (end <= next || later_ == most_later_visits) {
      give_up(std::min(end, next), Phase::later, Outcome::lost);
      break;
    }
    use_spares_elsewhere(next);
    gather_failed(plan, next);
    if (!goes_on(option, next)) {
      give_up(next, Phase::later, Outcome::faulty);
      break;
    }
    ++later_;
    counts_.later_visits += 1;
    outcome = licensed ? licensed_visit(next, renew_) : visit(plan, next, renew_);
    if (outcome != Outcome::works) give_up(next, Phase::later, outcome);
  }
  settle_spares();
}

/// Whether the failure at t, whose positions have been gathered, is repaired again.
bool Runner::goes_on(const Option& option, double t) {
  const int part = scene_.model.positions[static_cast<std::size_t>(renew_.front())].part;
  const auto p = static_cast<std::size_t>(part);
  int pieces = 0;
  for (const int i : renew_)
    pieces += scene_.model.positions[static_cast<std::size_t>(i)].part == part ? 1 : 0;
  const Stock& stock = stocks_[p];
  const bool at_hand = option.kind == OptionKind::licensed_repair ||
                       (stock.candidate >= 0 && stock.spares >= pieces && t <= stock.usable_until);
  const std::size_t its_class = StoppingRule::class_of(part, at_hand, later_);
  if (wishes_.trace == nullptr) return option.plan.rule.again(its_class, later_, t);
  wishes_.trace->events.push_back(
      {.its_class = its_class, .repairs_before = later_, .t = t, .cost_if_given_up = cost_if_given_up(t)});
  return true;
}

/// The whole cost if the device is given up now; the run goes on as if nothing had been asked.
double Runner::cost_if_given_up(double t) {
  const double cost_until = cost_, walked_to = walked_to_;
  const auto counts = counts_;
  kept_stocks_ = stocks_;
  give_up(t, Phase::later, Outcome::faulty);
  settle_spares();
  counts_ = counts;
  stocks_ = kept_stocks_;
  walked_to_ = walked_to;
  return std::exchange(cost_, cost_until);
}

/// Leaves out every later failure but those of the given positions.
void Runner::keep_due_only(const std::vector<int>& positions) {
  for (int i = 0; i < static_cast<int>(due_.size()); ++i) {
    if (std::find(positions.begin(), positions.end(), i) == positions.end()) {
      due_[static_cast<std::size_t>(i)] = never;
    }
  }
}

/// Failed positions at t (several after a common cause), and by the plan's rule the originals of the same parts.
void Runner::gather_failed(const RepairPlan& plan, double t) {
  renew_.clear();
  std::fill(pieces_.begin(), pieces_.end(), 0);
  for (int i = 0; i < static_cast<int>(due_.size()); ++i) {
    const auto slot = static_cast<std::size_t>(i);
    if (due_[slot] > t) continue;
    renew_.push_back(i);
    pieces_[static_cast<std::size_t>(scene_.model.positions[slot].part)] = 1;
  }
  if (!plan.mates_later) return;
  for (int i = 0; i < static_cast<int>(due_.size()); ++i) {
    const auto slot = static_cast<std::size_t>(i);
    const auto& position = scene_.model.positions[slot];
    const bool original = position.state == Position::State::original && renewals_[slot] == 0;
    if (original && due_[slot] > t && pieces_[static_cast<std::size_t>(position.part)] > 0)
      renew_.push_back(i);
  }
}

/// Opening and closing: what it uses up, and its minutes, which fall with practice.
void Runner::open(Phase phase, double worth, double t) {
  ++openings_;
  add(scene_.items.visit[phase], worth, t);
  add(scene_.items.visit_work[phase], worth * future_->physics().learning(++opened_), t);
}

Runner::Outcome Runner::visit(const RepairPlan& plan, double t, const std::vector<int>& renew) {
  const auto& physics = future_->physics();
  const bool now = visits_ == 0;
  const bool well = now && wishes_.all_well_now;
  const Phase smooth = now ? Phase::first : Phase::later;
  const Phase luck = now ? Phase::luck : Phase::later;
  const double worth = worth_at(t);
  const auto u = future_->visit_luck(visits_);
  ++visits_;
  openings_ = joints_ = 0;

  std::fill(pieces_.begin(), pieces_.end(), 0);
  for (const int i : renew)
    ++pieces_[static_cast<std::size_t>(scene_.model.positions[static_cast<std::size_t>(i)].part)];
  for (int p = 0; p < static_cast<int>(pieces_.size()); ++p) {
    const int pieces = pieces_[static_cast<std::size_t>(p)];
    if (pieces > 0 && !bring_pieces(plan, p, pieces, t)) {
      // Opened to find that nothing fits.
      open(smooth, worth, t);
      return Outcome::faulty;
    }
  }
  open(smooth, worth, t);

  for (const int i : renew) {
    const auto slot = static_cast<std::size_t>(i);
    const auto& position = scene_.model.positions[slot];
    const auto group = static_cast<std::size_t>(position.group);
    const int candidate = flat(position.part, stocks_[static_cast<std::size_t>(position.part)].candidate);
    const auto renewal = future_->renewal(i, renewals_[slot], candidate);
    add(scene_.items.work[group][smooth], worth * physics.learning(++jobs_done_), t);
    joints_ += physics.groups[group].joints;
    if (renewal.dead && !well) {
      add(scene_.items.work[group][luck], worth * physics.learning(++jobs_done_), t);
      joints_ += physics.groups[group].joints;
      if (renewal.u_found < physics.dead_found_after_closing) open(luck, worth, t);
      if (!bring_one_more(position.part, t)) return Outcome::faulty;
    }
    install(i, t + renewal.life_years);
  }
  if (well) return Outcome::works;

  const auto damage = physics.damage(openings_, joints_);
  if (u[1] < damage.mendable) {
    add(scene_.items.mend[luck], worth, t);
    any_damage_ = true;
  }
  if (u[0] < damage.write_off) {
    any_damage_ = true;
    if (now) counts_.written_off = 1;
    return Outcome::lost;
  }
  if (u[2] < physics.diagnosis_right) return Outcome::works;
  if (!physics.second_attempt) return Outcome::faulty;
  add(scene_.items.second_attempt[luck], worth, t);
  return u[3] < physics.second_attempt_chance ? Outcome::works : Outcome::faulty;
}

Runner::Outcome Runner::licensed_visit(double t, const std::vector<int>& renew) {
  const Phase phase = visits_ == 0 ? Phase::first : Phase::later;
  const bool well = visits_ == 0 && wishes_.all_well_now;
  const auto u = future_->visit_luck(visits_);
  ++visits_;
  add(scene_.items.licensed_visit[phase], worth_at(t), t);
  for (const int i : renew) {
    const auto slot = static_cast<std::size_t>(i);
    const int candidate = flat(scene_.model.positions[slot].part, 0);
    install(i, t + future_->renewal(i, renewals_[slot], candidate).life_years);
  }
  return well || u[2] < future_->physics().licensed_chance ? Outcome::works : Outcome::faulty;
}

void Runner::install(int position, double due) {
  const auto slot = static_cast<std::size_t>(position);
  ++renewals_[slot];
  due_[slot] = due;
}

/// The device is lost or not worth another visit: it goes, and another one is bought if there is one to buy. Where
/// there is none, a device that is only faulty is kept as it is.
void Runner::give_up(double t, Phase phase, Outcome why) {
  const auto& physics = future_->physics();
  const int next = scene_.chains.best();
  const double gone = next >= 0 || why == Outcome::lost ? t : std::min(future_->rest_end(), physics.end);
  if (gone < physics.end) {
    add(scene_.items.scrap, worth_at(gone), gone);
    add(scene_.items.keepsake, worth_at(gone), gone);
  }
  if (next < 0) {
    // Nothing takes its place: at the least, life goes on as with the fault.
    if (physics.burden) add_flow(scene_.items.burden, t, std::min(future_->rest_end(), physics.end));
    return;
  }
  counts_.replaced = 1;
  const auto& device = scene_.items.devices[static_cast<std::size_t>(next)];
  const Chains::Amounts amounts = scene_.chains.from(t, physics.end);
  add(device.device[phase], amounts.first, t);
  add(device.device[Phase::later], amounts.later, t);
  if (amounts.benefit != 0.0) add(device.benefit, amounts.benefit, t);
  if (amounts.resale != 0.0) add(device.resale, amounts.resale, physics.end);
  if (wishes_.timeline != nullptr) {
    const auto bin = static_cast<std::size_t>(t / wishes_.timeline->step);
    if (bin < wishes_.timeline->given_up.size()) wishes_.timeline->given_up[bin] += worth_at(t);
  }
}

}  // namespace mendworth

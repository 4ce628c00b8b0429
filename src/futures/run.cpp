#include "futures/run.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth {
namespace {

// Nobody goes on like that; the limits only keep an absurd case from running for ever.
constexpr int most_later_visits = 1000;
constexpr int most_devices = 1000;

}  // namespace

bool can_share(const Lane& a, const Lane& b) {
  const auto& x = *a.option;
  const auto& y = *b.option;
  if (x.kind != y.kind || a.fallback != b.fallback) return false;
  if (x.kind != OptionKind::repair && x.kind != OptionKind::licensed_repair) return false;
  const auto same_supply = [](const Supply& s, const Supply& t) {
    return s.candidate == t.candidate && s.first_pieces == t.first_pieces &&
           s.hedge_candidate == t.hedge_candidate && s.hedge_pieces == t.hedge_pieces && s.trial == t.trial &&
           s.reorders == t.reorders;
  };
  return x.plan.family == y.plan.family && x.plan.renew_now == y.plan.renew_now &&
         x.plan.mates_later == y.plan.mates_later && x.plan.returns_only == y.plan.returns_only &&
         x.plan.first_order == y.plan.first_order && x.plan.later_limit < y.plan.later_limit &&
         std::equal(x.plan.supplies.begin(), x.plan.supplies.end(), y.plan.supplies.begin(),
                    y.plan.supplies.end(), same_supply);
}

Runner::Runner(const DeviceModel& model, const OrderBook& book) : model_(model), book_(book) {
  due_.resize(model.positions.size());
  renewals_.resize(model.positions.size());
  stocks_.resize(model.c.parts.size());
  pieces_.resize(model.c.parts.size());
}

double Runner::worth_at(double t) const {
  return t == 0.0 ? 1.0 : std::exp(-future_->physics().log_growth * t);
}

void Runner::add(int item, double amount, double t) {
  // A visit renews several positions of a group one after the other: one entry does for all.
  if (journal_size_ > last_branch_) {
    Entry& last = journal_[journal_size_ - 1];
    if (last.item == item && last.t == t) {
      last.amount += amount;
      return;
    }
  }
  if (journal_size_ == journal_.size()) journal_.resize(2 * journal_size_ + 64);
  journal_[journal_size_++] = {item, amount, t};
}

void Runner::add_flow(int item, double from, double to) {
  if (to <= from) return;
  const double growth = future_->physics().log_growth;
  const auto worth = [growth, this](double a, double b) {
    return std::abs(growth) < 1e-12 ? b - a : (worth_at(a) - worth_at(b)) / growth;
  };
  if (!timed_) {
    add(item, worth(from, to), from);
    return;
  }
  const double width = future_->physics().horizon / static_cast<double>(bins_);
  for (double a = from; a < to;) {
    const double b = std::min(to, (std::floor(a / width + 1e-9) + 1.0) * width);
    add(item, worth(a, b), a);
    a = b;
  }
}

/// Prices the journal, and adds it to the lane's tally and timeline.
void Runner::book(Lane& lane) const {
  lane.cost = lane.tally->items.empty() ? priced() : booked(lane);
  lane.tally->cost += lane.cost;
  lane.tally->cost_squared += lane.cost * lane.cost;
  lane.tally->counts.add(counts_);
}

double Runner::priced() const {
  double cost = 0;
  for (std::size_t i = 0; i < journal_size_; ++i) {
    cost += journal_[i].amount * prices_->at(journal_[i].item).total();
  }
  return cost;
}

double Runner::booked(Lane& lane) const {
  double cost = 0;
  for (std::size_t i = 0; i < journal_size_; ++i) {
    const Entry& entry = journal_[i];
    const auto slot = static_cast<std::size_t>(entry.item);
    const UnitCost& unit = prices_->at(entry.item);
    auto& sum = lane.tally->items[slot];
    sum.amount += entry.amount;
    sum.money += entry.amount * unit.money;
    sum.labour += entry.amount * unit.labour;
    sum.downtime += entry.amount * unit.downtime;
    const double part = entry.amount * unit.total();
    cost += part;
    if (lane.timeline == nullptr) continue;
    const double place = entry.t / future_->physics().horizon * static_cast<double>(bins_);
    lane.timeline->cost[std::min(static_cast<std::size_t>(place), bins_ - 1)] += part;
  }
  return cost;
}

int Runner::flat(int part, int candidate) const {
  return future_->physics().first_candidate[static_cast<std::size_t>(part)] + candidate;
}

double Runner::learning(int n) const { return future_->physics().learning(n); }

void Runner::run(std::span<Lane> lanes, Future& future, PriceList& prices) {
  future_ = &future;
  prices_ = &prices;
  timed_ = lanes.front().timeline != nullptr;
  bins_ = timed_ ? lanes.front().timeline->cost.size() : 0;
  journal_size_ = 0;
  last_branch_ = 0;
  counts_ = Tally::Counts{};
  visits_ = 0;
  jobs_done_ = model_.c.labour.done_before;
  any_damage_ = false;

  Lane& lane = lanes.front();
  const auto& layout = model_.layout;
  const auto& physics = future.physics();
  switch (lane.option->kind) {
    case OptionKind::repair:
    case OptionKind::licensed_repair: repair(lanes); return;
    case OptionKind::replacement:
      add(layout.scrap(), 1.0, 0.0);
      add(layout.keepsake(), 1.0, 0.0);
      devices_from(0.0, lane.option->replacement, Phase::first);
      break;
    case OptionKind::leave:
      add_flow(layout.burden(), 0.0, std::min(future.rest_end(), physics.horizon));
      if (future.rest_end() < physics.horizon) {
        give_up(future.rest_end(), lane.fallback, Phase::later, Outcome::lost);
      } else {
        add(layout.scrap(), worth_at(physics.horizon), physics.horizon);
      }
      break;
    case OptionKind::claim: break;
  }
  book(lane);
}

void Runner::repair(std::span<Lane> lanes) {
  const RepairPlan& plan = lanes.front().option->plan;
  const bool licensed = lanes.front().option->kind == OptionKind::licensed_repair;
  const int fallback = lanes.front().fallback;
  const auto& physics = future_->physics();
  const auto& layout = model_.layout;
  due_ = future_->failures();
  std::fill(renewals_.begin(), renewals_.end(), 0);
  for (std::size_t p = 0; p < stocks_.size(); ++p) {
    auto& stock = stocks_[p];
    stock = Stock{};
    stock.candidate = plan.supplies[p].candidate;
    stock.tried = 1;
    stock.usable_until = physics.parts[p].shelf_life_years;
    stock.spares = plan.supplies[p].first_pieces;
    if (physics.parts[p].other_uses_per_year > 0) {
      stock.next_use = future_->other_use_wait(static_cast<int>(p), 0) / physics.parts[p].other_uses_per_year;
    }
  }
  if (!licensed) {
    add(layout.case_work(), 1.0, 0.0);
    if (plan.first_order >= 0) add(layout.order(plan.first_order, Phase::first), 1.0, 0.0);
    open_drawer(plan);
  }

  renew_ = plan.renew_now;
  Outcome outcome = licensed ? licensed_visit(0.0, renew_) : visit(plan, 0.0, renew_);
  if (any_damage_) counts_.damaged = 1;
  if (plan.returns_only) keep_due_only(plan.renew_now);
  if (outcome == Outcome::works) {
    counts_.cured = 1;
  } else {
    give_up(0.0, fallback, Phase::luck, outcome);
  }

  int later = 0;
  while (outcome == Outcome::works) {
    const double next = *std::min_element(due_.begin(), due_.end());
    const double end = future_->rest_end();
    if (std::min(next, end) >= physics.horizon) {
      add(layout.resale(), worth_at(physics.horizon), physics.horizon);
      break;
    }
    if (later == most_later_visits) counts_.endless = 1;
    if (end <= next || later == most_later_visits) {
      give_up(std::min(end, next), fallback, Phase::later, Outcome::lost);
      break;
    }
    use_spares_elsewhere(next);
    if (later == lanes.front().option->plan.later_limit) {
      branch_off(lanes.front(), next);
      lanes = lanes.subspan(1);
      if (lanes.empty()) return;
    }
    gather_failed(plan, next);
    ++later;
    counts_.later_visits += 1;
    outcome = licensed ? licensed_visit(next, renew_) : visit(plan, next, renew_);
    if (outcome != Outcome::works) give_up(next, fallback, Phase::later, outcome);
  }
  settle_spares();
  for (auto& lane : lanes) book(lane);
}

/// Leaves out every later failure but those of the given positions.
void Runner::keep_due_only(const std::vector<int>& positions) {
  for (int i = 0; i < static_cast<int>(due_.size()); ++i) {
    if (std::find(positions.begin(), positions.end(), i) == positions.end()) {
      due_[static_cast<std::size_t>(i)] = never;
    }
  }
}

/// Ends a lane whose limit of visits is reached, and takes the run back to where it was for the others.
void Runner::branch_off(Lane& lane, double t) {
  const auto journal_size = journal_size_;
  const auto last_branch = last_branch_;
  last_branch_ = journal_size_;  // what stands before is not this lane's to change
  const auto counts = counts_;
  kept_stocks_ = stocks_;
  give_up(t, lane.fallback, Phase::later, Outcome::faulty);
  settle_spares();
  book(lane);
  journal_size_ = journal_size;
  last_branch_ = last_branch;
  counts_ = counts;
  stocks_ = kept_stocks_;
}

/// Failed positions at t (several after a common cause), and by the plan's rule the originals of the same parts.
void Runner::gather_failed(const RepairPlan& plan, double t) {
  renew_.clear();
  std::fill(pieces_.begin(), pieces_.end(), 0);
  for (int i = 0; i < static_cast<int>(due_.size()); ++i) {
    const auto slot = static_cast<std::size_t>(i);
    if (due_[slot] > t) continue;
    renew_.push_back(i);
    pieces_[static_cast<std::size_t>(model_.positions[slot].part)] = 1;
  }
  if (!plan.mates_later) return;
  for (int i = 0; i < static_cast<int>(due_.size()); ++i) {
    const auto slot = static_cast<std::size_t>(i);
    const auto& position = model_.positions[slot];
    const bool original = position.state == Position::State::original && renewals_[slot] == 0;
    if (original && due_[slot] > t && pieces_[static_cast<std::size_t>(position.part)] > 0)
      renew_.push_back(i);
  }
}

Runner::Outcome Runner::visit(const RepairPlan& plan, double t, const std::vector<int>& renew) {
  const auto& physics = future_->physics();
  const auto& layout = model_.layout;
  const bool now = visits_ == 0;
  const Phase smooth = now ? Phase::first : Phase::later;
  const Phase luck = now ? Phase::luck : Phase::later;
  const double worth = worth_at(t);
  const auto u = future_->visit_luck(visits_);
  ++visits_;

  int openings = 1;
  std::fill(pieces_.begin(), pieces_.end(), 0);
  for (const int i : renew)
    ++pieces_[static_cast<std::size_t>(model_.positions[static_cast<std::size_t>(i)].part)];
  for (int p = 0; p < static_cast<int>(pieces_.size()); ++p) {
    const int pieces = pieces_[static_cast<std::size_t>(p)];
    if (pieces > 0 && !bring_pieces(plan, p, pieces, t, openings)) {
      // Opened to find that nothing fits.
      add(layout.visit(smooth), worth, t);
      return Outcome::faulty;
    }
  }
  add(layout.visit(smooth), worth, t);

  int joints = 0;
  for (const int i : renew) {
    const auto slot = static_cast<std::size_t>(i);
    const auto& position = model_.positions[slot];
    const auto& group = physics.groups[static_cast<std::size_t>(position.group)];
    const int candidate = flat(position.part, stocks_[static_cast<std::size_t>(position.part)].candidate);
    const auto renewal = future_->renewal(i, renewals_[slot], candidate);
    add(layout.work(position.group, smooth), worth * learning(++jobs_done_), t);
    joints += group.joints;
    if (renewal.dead) {
      add(layout.work(position.group, luck), worth * learning(++jobs_done_), t);
      joints += group.joints;
      if (renewal.u_found < physics.dead_found_after_closing) {
        ++openings;
        add(layout.visit(luck), worth, t);
      }
      if (!bring_one_more(plan, position.part, t)) return Outcome::faulty;
    }
    install(i, t + renewal.life_years);
  }

  const auto damage = physics.damage(openings, joints);
  if (u[1] < damage.mendable) {
    add(layout.mend(luck), worth, t);
    any_damage_ = true;
  }
  if (u[0] < damage.write_off) {
    any_damage_ = true;
    if (now) counts_.written_off = 1;
    return Outcome::lost;
  }
  if (u[2] < physics.diagnosis_right) return Outcome::works;
  if (!physics.second_attempt) return Outcome::faulty;
  add(layout.second_attempt(luck), worth, t);
  return u[3] < physics.second_attempt_chance ? Outcome::works : Outcome::faulty;
}

Runner::Outcome Runner::licensed_visit(double t, const std::vector<int>& renew) {
  const Phase phase = visits_ == 0 ? Phase::first : Phase::later;
  const auto u = future_->visit_luck(visits_);
  ++visits_;
  add(model_.layout.licensed_visit(phase), worth_at(t), t);
  for (const int i : renew) {
    const auto slot = static_cast<std::size_t>(i);
    const int candidate = flat(model_.positions[slot].part, 0);
    install(i, t + future_->renewal(i, renewals_[slot], candidate).life_years);
  }
  return u[2] < future_->physics().licensed_chance ? Outcome::works : Outcome::faulty;
}

void Runner::install(int position, double due) {
  const auto slot = static_cast<std::size_t>(position);
  ++renewals_[slot];
  due_[slot] = due;
}

/// The device is lost or not worth another visit: it goes, and another one is bought if there is one to buy. Where
/// there is none, a device that is only faulty is kept as it is.
void Runner::give_up(double t, int fallback, Phase phase, Outcome why) {
  const auto& physics = future_->physics();
  const double worth = worth_at(t);
  const double gone =
      fallback >= 0 || why == Outcome::lost ? t : std::min(future_->rest_end(), physics.horizon);
  if (gone < physics.horizon) {
    add(model_.layout.scrap(), gone == t ? worth : worth_at(gone), gone);
    add(model_.layout.keepsake(), gone == t ? worth : worth_at(gone), gone);
  }
  if (fallback >= 0) {
    counts_.other_device = 1;
    devices_from(t, fallback, phase);
  } else if (physics.burden) {
    // Nothing takes its place: at the least, life goes on as with the fault.
    add_flow(model_.layout.burden(), t, physics.horizon);
  }
}

void Runner::devices_from(double t, int replacement, Phase phase) {
  const double horizon = future_->physics().horizon;
  if (future_->physics().replacements[static_cast<std::size_t>(replacement)].benefit) {
    add_flow(model_.layout.benefit(replacement), t, horizon);
  }
  double life = 0;
  for (int i = 0; t < horizon && i < most_devices; ++i) {
    if (i > 0) counts_.other_device = 1;
    add(model_.layout.device(replacement, i == 0 ? phase : Phase::later), worth_at(t), t);
    life = future_->device_life(replacement, i);
    t += life;
  }
  const double worth = worth_at(horizon);
  add(model_.layout.new_resale(replacement), worth, horizon);
  if (t > horizon) add(model_.layout.unused_life(replacement), (t - horizon) / life * worth, horizon);
}

}  // namespace mendworth

#include "futures/run.hpp"

#include <algorithm>
#include <cstddef>

#include "numeric/poisson_stock.hpp"

// What becomes of pieces in one future: out of the drawer, fitted, put away, taken by other devices, left over.
namespace mendworth {
namespace {

// Only keeps a case with other uses beyond counting from running for ever.
constexpr int most_uses_in_vain = 256;

}  // namespace

/// Puts the pieces that are here beside those of the first candidate's order where they can be had: its own from the
/// drawer among the spares, all others aside. In return the plan is charged what the drawer would have been worth
/// without this device: the pieces for the visit now as drawn, the others against what they will still do.
void Runner::open_drawer(const RepairPlan& plan) {
  std::fill(pieces_.begin(), pieces_.end(), 0);
  for (const int i : plan.renew_now)
    ++pieces_[static_cast<std::size_t>(scene_.model.positions[static_cast<std::size_t>(i)].part)];
  for (std::size_t p = 0; p < stocks_.size(); ++p) {
    const auto& supply = plan.supplies[p];
    const auto& drawer = future_->physics().drawers[p];
    auto& stock = stocks_[p];
    stock.aside = supply.hedge_pieces;
    stock.aside_until = stock.usable_until;
    if (drawer.pieces() == 0) continue;
    stock.from_drawer =
        scene_.model.c.parts[p].candidates[static_cast<std::size_t>(supply.candidate)].on_hand;
    stock.spares += stock.from_drawer;
    stock.aside += drawer.pieces() - stock.from_drawer;
    const auto& items = scene_.items.parts[p];
    const auto all = static_cast<std::size_t>(drawer.pieces());
    const auto kept = all - static_cast<std::size_t>(std::min(stock.from_drawer, pieces_[p]));
    add(items.drawn_use, drawer.uses[all] - drawer.uses[kept], 0.0);
    add(items.drawn_left, drawer.left[all] - drawer.left[kept], 0.0);
    add(items.used_elsewhere, -drawer.uses[kept], 0.0);
    add(items.left, -drawer.left[kept], 0.0);
  }
}

/// Orders pieces of a part anew.
void Runner::order(int part, int kind, double t) {
  const auto p = static_cast<std::size_t>(part);
  const Phase phase = visits_ == 1 ? Phase::luck : Phase::later;
  auto& stock = stocks_[p];
  add(scene_.items.orders[static_cast<std::size_t>(kind)][phase], worth_at(t), t);
  stock.spares += scene_.book.pieces(kind, part, stock.candidate);
  stock.usable_until = t + future_->physics().parts[p].shelf_life_years;
}

/// Has `pieces` fitting pieces on the bench: from the spares, else from an order. A candidate that turns out not to
/// fit is put away and the next one ordered. False if nothing can be had that fits.
bool Runner::bring_pieces(const RepairPlan& plan, int part, int pieces, double t) {
  const auto p = static_cast<std::size_t>(part);
  const auto& supply = plan.supplies[p];
  auto& stock = stocks_[p];
  if (wishes_.demands != nullptr && visits_ > 1) wishes_.demands->push_back({part, pieces, t});
  if (visits_ == 1 && wishes_.all_well_now) {
    stock.spares = std::max(0, stock.spares - pieces);
    return true;
  }
  while (stock.candidate >= 0) {
    if (t > stock.usable_until && stock.spares > 0) {
      add(scene_.items.parts[p].left, stock.spares * worth_at(stock.usable_until), stock.usable_until);
      stock.spares = stock.from_drawer = 0;
    }
    if (visits_ > 1) counts_.spares_used += std::min(stock.spares, pieces);
    if (stock.spares < pieces) {
      const int kind = scene_.book.reorder(part, stock.candidate, pieces);
      if (kind < 0) return false;
      order(part, kind, t);
    }
    const int candidate = flat(part, stock.candidate);
    if (stock.fit_known || future_->fits(candidate)) {
      stock.fit_known = true;
      stock.spares -= pieces;
      return true;
    }
    try_in_vain(part, pieces, candidate, t, supply);
  }
  return false;
}

/// A misfit shows at a dry fit, or after one position has been worked on and the device closed: that opening, the
/// position's minutes, and its joints.
void Runner::try_in_vain(int part, int pieces, int candidate, double t, const Supply& supply) {
  const auto& physics = future_->physics();
  const Phase luck = visits_ == 1 ? Phase::luck : Phase::later;
  const double worth = worth_at(t);
  const bool worked_on = future_->misfit_luck(candidate) < physics.misfit_found_after_closing;
  if (worked_on) {
    const auto of_part = std::find_if(renew_.begin(), renew_.end(), [&](int i) {
      return scene_.model.positions[static_cast<std::size_t>(i)].part == part;
    });
    const auto group =
        static_cast<std::size_t>(scene_.model.positions[static_cast<std::size_t>(*of_part)].group);
    open(luck, worth, t);
    add(scene_.items.work[group][luck], worth * physics.learning(++jobs_done_), t);
    joints_ += physics.groups[group].joints;
  } else {
    add(scene_.items.dry_fit[luck], worth, t);
  }
  put_away(supply, part, worked_on ? pieces : 0, t);
}

/// Puts away the candidate in use, which does not fit, and turns to the next one, with those of its pieces that are
/// here. Pieces from the drawer go back but for the spoilt ones; others were bought for this device and are nothing.
void Runner::put_away(const Supply& supply, int part, int spoilt, double t) {
  const auto p = static_cast<std::size_t>(part);
  auto& stock = stocks_[p];
  stock.aside += std::max(std::min(stock.from_drawer, stock.spares - spoilt), 0);
  stock.spares = stock.from_drawer = 0;
  stock.candidate = stock.tried < static_cast<int>(supply.trial.size())
                        ? supply.trial[static_cast<std::size_t>(stock.tried)]
                        : -1;
  ++stock.tried;
  if (stock.candidate < 0 || stock.aside == 0 || t > stock.aside_until) return;
  const int on_hand = scene_.model.c.parts[p].candidates[static_cast<std::size_t>(stock.candidate)].on_hand;
  const int bought = stock.candidate == supply.hedge_candidate ? supply.hedge_pieces : 0;
  stock.spares = std::min(stock.aside, on_hand + bought);
  stock.from_drawer = std::min(on_hand, stock.spares);
  stock.aside -= stock.spares;
  stock.usable_until = stock.aside_until;
}

/// Another piece for one that was dead on arrival; taken to be good.
bool Runner::bring_one_more(int part, double t) {
  const auto p = static_cast<std::size_t>(part);
  auto& stock = stocks_[p];
  if (wishes_.demands != nullptr) wishes_.demands->push_back({part, 1, t});
  if (stock.spares > 0) counts_.spares_used += 1;
  if (stock.spares == 0) {
    const int kind = scene_.book.reorder(part, stock.candidate, 1);
    if (kind < 0) return false;
    order(part, kind, t);
  }
  --stock.spares;
  return true;
}

/// Other devices and jobs take spares as they come, until the shelf life or the given time.
void Runner::use_spares_elsewhere(double until) {
  const auto& physics = future_->physics();
  walked_to_ = until;
  for (std::size_t p = 0; p < stocks_.size(); ++p) {
    auto& stock = stocks_[p];
    const double rate = physics.parts[p].other_uses_per_year;
    if (rate == 0) continue;
    if (stock.next_use == 0) stock.next_use = future_->other_use_wait(static_cast<int>(p), 0) / rate;
    int in_vain = 0;
    while (stock.next_use < until) {
      const double t = stock.next_use;
      const bool from_aside = stock.aside > 0 && t <= stock.aside_until;
      const bool from_spares = stock.spares > 0 && t <= stock.usable_until && stock.candidate >= 0;
      if (from_aside || from_spares) {
        --(from_aside ? stock.aside : stock.spares);
        if (!from_aside && stock.from_drawer > 0) --stock.from_drawer;
        counts_.spares_used += 1;
        add(scene_.items.parts[p].used_elsewhere, worth_at(t), t);
      }
      // What comes in vain is walked through, so that every plan meets the same uses. Where that is too long, nothing
      // is left to take until then, and the process, which has no memory, begins anew.
      const bool forget = !from_aside && !from_spares && ++in_vain == most_uses_in_vain;
      ++stock.uses;
      stock.next_use = (forget ? until : t) + future_->other_use_wait(static_cast<int>(p), stock.uses) / rate;
    }
  }
}

/// What is left serves other uses until the need or its shelf life ends, and is sold then. As this device takes none any
/// more, that is worth what is expected of it, in closed form. Uses are walked through where it matters when they come,
/// and where pieces of two ages are left, of which the older go first.
void Runner::settle_spares() {
  bool is_walked = wishes_.timeline != nullptr;
  double last = 0;
  for (const auto& stock : stocks_) {
    if (stock.spares > 0) last = std::max(last, stock.usable_until);
    if (stock.aside > 0) last = std::max(last, stock.aside_until);
    is_walked = is_walked || (stock.spares > 0 && stock.aside > 0 && stock.usable_until != stock.aside_until);
  }
  if (is_walked) use_spares_elsewhere(std::min(last, future_->physics().end));
  for (int p = 0; p < static_cast<int>(stocks_.size()); ++p) {
    const auto& stock = stocks_[static_cast<std::size_t>(p)];
    if (stock.usable_until == stock.aside_until) {
      use_and_sell(p, stock.spares + stock.aside, stock.usable_until);
    } else {
      use_and_sell(p, stock.spares, stock.usable_until);
      use_and_sell(p, stock.aside, stock.aside_until);
    }
  }
}

/// From when uses were last looked at.
void Runner::use_and_sell(int part, int pieces, double until) {
  if (pieces == 0) return;
  const auto& physics = future_->physics();
  const auto& items = scene_.items.parts[static_cast<std::size_t>(part)];
  const double rate = physics.parts[static_cast<std::size_t>(part)].other_uses_per_year;
  const double end = std::min(until, physics.end);
  double left = pieces;
  if (rate > 0 && walked_to_ < end) {
    const StockCourse course = stock_course(pieces, rate, end - walked_to_, physics.log_growth);
    add(items.used_elsewhere, worth_at(walked_to_) * course.uses, walked_to_);
    left = course.left;
    counts_.spares_used += pieces - left;
  }
  add(items.left, left * worth_at(end), end);
}

}  // namespace mendworth

#include "futures/run.hpp"

#include <algorithm>
#include <cstddef>

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
  const auto& layout = model_.layout;
  std::fill(pieces_.begin(), pieces_.end(), 0);
  for (const int i : plan.renew_now)
    ++pieces_[static_cast<std::size_t>(model_.positions[static_cast<std::size_t>(i)].part)];
  for (std::size_t p = 0; p < stocks_.size(); ++p) {
    const auto& supply = plan.supplies[p];
    const auto& drawer = future_->physics().drawers[p];
    auto& stock = stocks_[p];
    stock.aside = supply.hedge_pieces;
    stock.aside_until = stock.usable_until;
    if (drawer.pieces() == 0) continue;
    stock.from_drawer = model_.c.parts[p].candidates[static_cast<std::size_t>(supply.candidate)].on_hand;
    stock.spares += stock.from_drawer;
    stock.aside += drawer.pieces() - stock.from_drawer;
    const int part = static_cast<int>(p);
    const auto all = static_cast<std::size_t>(drawer.pieces());
    const auto kept = all - static_cast<std::size_t>(std::min(stock.from_drawer, pieces_[p]));
    add(layout.drawn_use(part), drawer.uses[all] - drawer.uses[kept], 0.0);
    add(layout.drawn_left(part), drawer.left[all] - drawer.left[kept], 0.0);
    add(layout.spare_used_elsewhere(part), -drawer.uses[kept], 0.0);
    add(layout.spare_left(part), -drawer.left[kept], 0.0);
  }
}

/// Has `pieces` fitting pieces on the bench: from the spares, else from an order. A candidate that turns out not to
/// fit is put away and the next one ordered. False if nothing can be had that fits.
bool Runner::bring_pieces(const RepairPlan& plan, int part, int pieces, double t, int& openings) {
  const auto& physics = future_->physics();
  const auto& layout = model_.layout;
  const auto p = static_cast<std::size_t>(part);
  const auto& supply = plan.supplies[p];
  auto& stock = stocks_[p];
  const Phase luck = visits_ == 1 ? Phase::luck : Phase::later;
  const double worth = worth_at(t);
  while (stock.candidate >= 0) {
    if (t > stock.usable_until) stock.spares = stock.from_drawer = 0;
    if (visits_ > 1) counts_.spares_used += std::min(stock.spares, pieces);
    if (stock.spares < pieces) {
      const auto& kinds = supply.reorders[static_cast<std::size_t>(stock.candidate)];
      const int kind = kinds[static_cast<std::size_t>(pieces - 1)];
      if (kind < 0) return false;
      add(layout.order(kind, luck), worth, t);
      stock.spares += book_.needs(kind).front().pieces;
      stock.usable_until = t + physics.parts[p].shelf_life_years;
    }
    const int candidate = flat(part, stock.candidate);
    if (stock.fit_known || future_->fits(candidate)) {
      stock.fit_known = true;
      stock.spares -= pieces;
      return true;
    }
    const bool worked_on = future_->misfit_luck(candidate) < physics.misfit_found_after_closing;
    if (worked_on) {
      ++openings;
      add(layout.visit(luck), worth, t);
      add(layout.work(model_.positions[static_cast<std::size_t>(renew_.front())].group, luck), worth, t);
    } else {
      add(layout.dry_fit(luck), worth, t);
    }
    put_away(supply, part, worked_on ? pieces : 0, t);
  }
  return false;
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
  const int on_hand = model_.c.parts[p].candidates[static_cast<std::size_t>(stock.candidate)].on_hand;
  const int bought = stock.candidate == supply.hedge_candidate ? supply.hedge_pieces : 0;
  stock.spares = std::min(stock.aside, on_hand + bought);
  stock.from_drawer = std::min(on_hand, stock.spares);
  stock.aside -= stock.spares;
  stock.usable_until = stock.aside_until;
}

/// Another piece for one that was dead on arrival; taken to be good.
bool Runner::bring_one_more(const RepairPlan& plan, int part, double t) {
  const auto p = static_cast<std::size_t>(part);
  auto& stock = stocks_[p];
  if (stock.spares > 0) counts_.spares_used += 1;
  if (stock.spares == 0) {
    const int kind = plan.supplies[p].reorders[static_cast<std::size_t>(stock.candidate)].front();
    if (kind < 0) return false;
    add(model_.layout.order(kind, visits_ == 1 ? Phase::luck : Phase::later), worth_at(t), t);
    stock.spares += book_.needs(kind).front().pieces;
    stock.usable_until = t + future_->physics().parts[p].shelf_life_years;
  }
  --stock.spares;
  return true;
}

/// Other devices and jobs take spares as they come, until the shelf life or the given time.
void Runner::use_spares_elsewhere(double until) {
  const auto& physics = future_->physics();
  for (std::size_t p = 0; p < stocks_.size(); ++p) {
    auto& stock = stocks_[p];
    int in_vain = 0;
    while (stock.next_use < until) {
      const double t = stock.next_use;
      const bool from_aside = stock.aside > 0 && t <= stock.aside_until;
      const bool from_spares = stock.spares > 0 && t <= stock.usable_until && stock.candidate >= 0;
      if (from_aside || from_spares) {
        --(from_aside ? stock.aside : stock.spares);
        if (!from_aside && stock.from_drawer > 0) --stock.from_drawer;
        counts_.spares_used += 1;
        add(model_.layout.spare_used_elsewhere(static_cast<int>(p)), worth_at(t), t);
      }
      // What comes in vain is walked through, so that every plan meets the same uses. Where that is too long, nothing
      // is left to take until then, and the process, which has no memory, begins anew.
      const bool forget = !from_aside && !from_spares && ++in_vain == most_uses_in_vain;
      ++stock.uses;
      stock.next_use = (forget ? until : t) + future_->other_use_wait(static_cast<int>(p), stock.uses) /
                                                  physics.parts[p].other_uses_per_year;
    }
  }
}

void Runner::settle_spares() {
  const double horizon = future_->physics().horizon;
  use_spares_elsewhere(horizon);
  for (std::size_t p = 0; p < stocks_.size(); ++p) {
    const auto& stock = stocks_[p];
    const int left =
        (horizon <= stock.usable_until ? stock.spares : 0) + (horizon <= stock.aside_until ? stock.aside : 0);
    if (left > 0) add(model_.layout.spare_left(static_cast<int>(p)), left * worth_at(horizon), horizon);
  }
}

}  // namespace mendworth

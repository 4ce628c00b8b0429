#include "model/basket_start.hpp"

#include <cmath>
#include <limits>
#include <optional>

namespace mendworth {
namespace {

constexpr std::size_t kFewSuppliers = 5;
constexpr int kMostRounds = 6;

class FirstBaskets {
 public:
  FirstBaskets(const std::vector<BasketSupplier>& suppliers, std::vector<PartMenu>& menus, BasketDraft& draft,
               std::int64_t& steps)
      : suppliers_(suppliers), menus_(menus), draft_(draft), steps_(steps) {
    for (const BasketSupplier& s : suppliers_) prices_.price.push_back(s.permitted ? s.slope : 0);
  }

  void run() {
    std::vector<char> all;
    std::vector<std::size_t> sellers;
    for (std::size_t s = 0; s < suppliers_.size(); ++s) {
      all.push_back(suppliers_[s].permitted ? 1 : 0);
      if (suppliers_[s].permitted) sellers.push_back(s);
    }
    from(all);
    for (std::size_t i = 0; i < sellers.size(); ++i) {
      from(only(sellers[i], sellers[i]));
      if (sellers.size() > kFewSuppliers) continue;
      for (std::size_t k = i + 1; k < sellers.size(); ++k) from(only(sellers[i], sellers[k]));
    }
    if (!best_) return;
    improve(all);
    // One supplier more or one less, and each part chosen anew.
    for (int round = 0; round < kMostRounds; ++round) {
      const double before = net_;
      const std::vector<char> used = used_by(*best_);
      for (const std::size_t s : sellers) {
        std::vector<char> open = used;
        open[s] = open[s] != 0 ? 0 : 1;
        const auto other = chosen_alone(open);
        if (!other) continue;
        const auto best = best_;
        const double net = net_;
        best_ = other;
        net_ = offer(*other);
        improve(open);
        if (net_ < net) continue;
        best_ = best;
        net_ = net;
      }
      if (!(net_ < before)) break;
    }
  }

 private:
  std::vector<char> only(std::size_t a, std::size_t b) const {
    std::vector<char> open(suppliers_.size(), 0);
    open[a] = open[b] = 1;
    return open;
  }

  std::vector<char> used_by(const std::vector<Pick>& picks) {
    (void)offer(picks);
    std::vector<char> used;
    for (std::size_t s = 0; s < suppliers_.size(); ++s) used.push_back(draft_.is_used(s) ? 1 : 0);
    return used;
  }

  double offer(const std::vector<Pick>& picks) {
    steps_ += static_cast<std::int64_t>(8 * (suppliers_.size() + picks.size()));
    return draft_.offer(picks);
  }

  std::optional<std::vector<Pick>> chosen_alone(const std::vector<char>& open) {
    prices_.open = open;
    std::vector<Pick> picks;
    for (PartMenu& menu : menus_) {
      steps_ += menu.size();
      picks.push_back(menu.least(prices_));
      if (std::isinf(picks.back().cost)) return std::nullopt;
    }
    return picks;
  }

  void from(const std::vector<char>& open) {
    const auto picks = chosen_alone(open);
    if (!picks) return;
    const double net = offer(*picks);
    if (best_ && net >= net_) return;
    best_ = picks;
    net_ = net;
  }

  // One part after the other chosen anew beside the rest of the order, until nothing gets better.
  void improve(const std::vector<char>& open) {
    prices_.open = open;
    for (int round = 0; round < kMostRounds; ++round) {
      const double before = net_;
      for (std::size_t p = 0; p < menus_.size(); ++p) choose_anew(p);
      if (!(net_ < before)) break;
    }
  }

  void choose_anew(std::size_t p) {
    const PartMenu& menu = menus_[p];
    std::vector<Pick> picks = *best_;
    draft_.clear();
    for (std::size_t k = 0; k < picks.size(); ++k) {
      if (k != p) draft_.put(k, picks[k], 1);
    }
    std::vector<double> cost(menu.deals().size(), not_to_be_had);
    std::vector<std::size_t> lot(menu.deals().size(), 0);
    for (std::size_t d = 0; d < cost.size(); ++d) {
      if (!menu.is_open(d, prices_)) continue;
      const Source& source = menu.source_of(d);
      steps_ += static_cast<std::int64_t>(16 * source.lots.size());
      for (std::size_t l = 0; l < source.lots.size(); ++l) {
        const double added = draft_.added_cost(source, l) + menu.deals()[d].beside[l];
        if (added >= cost[d]) continue;
        cost[d] = added;
        lot[d] = l;
      }
    }
    for (std::size_t m = 0; m < menu.modes().size(); ++m) {
      Pick pick;
      pick.mode = m;
      bool possible = true;
      for (const std::size_t i : {0U, 1U}) {
        const std::size_t use = menu.modes()[m].use[i];
        if (use == kNone) continue;
        for (const std::size_t d : menu.uses()[use].deals) {
          if (pick.deal[i] == kNone || cost[d] < cost[pick.deal[i]]) pick.deal[i] = d;
        }
        possible = possible && pick.deal[i] != kNone && std::isfinite(cost[pick.deal[i]]);
        if (possible) pick.lot[i] = lot[pick.deal[i]];
      }
      if (!possible) continue;
      picks[p] = pick;
      const double net = offer(picks);
      if (!(net < net_)) continue;
      net_ = net;
      best_ = picks;
    }
  }

  const std::vector<BasketSupplier>& suppliers_;
  std::vector<PartMenu>& menus_;
  BasketDraft& draft_;
  std::int64_t& steps_;
  ShadowPrices prices_;
  std::optional<std::vector<Pick>> best_;
  double net_ = not_to_be_had;
};

}  // namespace

void first_baskets(const std::vector<BasketSupplier>& suppliers, std::vector<PartMenu>& menus,
                   BasketDraft& draft, std::int64_t& steps) {
  FirstBaskets(suppliers, menus, draft, steps).run();
}

}  // namespace mendworth

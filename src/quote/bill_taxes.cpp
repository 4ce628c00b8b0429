#include "quote/bill_taxes.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace mendworth {

namespace {

bool applies(const Tax& tax, LineKind kind) {
  return std::ranges::find(tax.exempt, kind) == tax.exempt.end();
}

/// What each tax comes to on a net of 1; absent where it does not apply.
using Effective = std::vector<std::optional<Exact>>;

/// `also` too must bear a tax: of a part of a discount, that it is one.
Effective effective_rates(const Shop& shop, LineKind kind, LineKind also) {
  Effective effective;
  Exact before = Exact::whole(1);
  for (const Tax& tax : shop.taxes) {
    effective.emplace_back();
    if (!applies(tax, kind) || !applies(tax, also)) continue;
    const Exact rate = Exact::decimal(tax.rate);
    effective.back() = tax.compound ? rate * before : rate;
    before += *effective.back();
  }
  return effective;
}

/// One and those of the taxes that are included, or that are not.
Exact one_and(const Shop& shop, const Effective& effective, bool included) {
  Exact sum = Exact::whole(1);
  for (std::size_t i = 0; i < effective.size(); ++i) {
    if (effective[i] && shop.taxes[i].included == included) sum += *effective[i];
  }
  return sum;
}

struct NetLine {
  Exact net;
  Effective effective;
};

NetLine net_line(const Shop& shop, const Till& till, Money amount, LineKind kind, LineKind also) {
  NetLine out{{}, effective_rates(shop, kind, also)};
  out.net = till.units(amount) / one_and(shop, out.effective, true);
  return out;
}

/// A line, or the parts of one that is a discount.
std::vector<NetLine> net_lines(const Shop& shop, const Till& till, const BillLine& line) {
  if (line.parts.empty()) return {net_line(shop, till, line.amount, line.kind, line.kind)};
  std::vector<NetLine> nets;
  for (const BillLine::Part& part : line.parts)
    nets.push_back(net_line(shop, till, part.amount, part.kind, line.kind));
  return nets;
}

/// Lines whose taxes are rounded together.
class TaxGroup {
 public:
  TaxGroup(const Shop& shop, const Till& till) : shop_(shop), till_(till) {}

  void add(NetLine line) { lines_.push_back(std::move(line)); }

  /// Adds what each tax is levied on to `taxable`, and what it comes to, rounded, to `amounts`.
  void levy(std::vector<Exact>& taxable, std::vector<Money>& amounts) const {
    std::vector<Money> printed;
    for (std::size_t i = 0; i < shop_.taxes.size(); ++i) {
      const Exact base = base_of(i, printed);
      printed.push_back(till_.rounded(Exact::decimal(shop_.taxes[i].rate) * base));
      taxable[i] += base;
      amounts[i] = till_.checked(amounts[i] + printed[i]);
    }
  }

 private:
  [[nodiscard]] Exact base_of(std::size_t tax, const std::vector<Money>& printed) const {
    Exact base;
    for (const NetLine& line : lines_) {
      if (line.effective[tax]) base += line.net;
    }
    if (!shop_.taxes[tax].compound) return base;
    for (std::size_t before = 0; before < tax; ++before) {
      if (stands_on_page(before, tax)) {
        base += till_.units(printed[before]);
        continue;
      }
      for (const NetLine& line : lines_) {
        if (line.effective[tax] && line.effective[before]) base += line.net * *line.effective[before];
      }
    }
    return base;
  }

  /// Whether `before` is a figure that can be added to what `tax` is on. An included tax cannot: net and tax
  /// together are the price, which is on the page. Nor can a tax that is added, where `tax` itself is within the
  /// prices.
  [[nodiscard]] bool stands_on_page(std::size_t before, std::size_t tax) const {
    return !shop_.taxes[before].included && !shop_.taxes[tax].included &&
           std::ranges::all_of(
               lines_, [&](const NetLine& line) { return line.effective[tax] || !line.effective[before]; });
  }

  const Shop& shop_;
  const Till& till_;
  std::vector<NetLine> lines_;
};

}  // namespace

std::vector<BillTax> taxes_on(const Shop& shop, const Till& till, const std::vector<BillLine>& lines) {
  std::vector<Exact> taxable(shop.taxes.size());
  std::vector<Money> amounts(shop.taxes.size());
  TaxGroup all(shop, till);
  for (const BillLine& line : lines) {
    for (NetLine& net : net_lines(shop, till, line)) {
      TaxGroup alone(shop, till);
      TaxGroup& group = shop.tax_by == TaxBy::line ? alone : all;
      group.add(std::move(net));
      alone.levy(taxable, amounts);
    }
  }
  all.levy(taxable, amounts);

  std::vector<BillTax> taxes;
  for (std::size_t i = 0; i < shop.taxes.size(); ++i) {
    const Tax& tax = shop.taxes[i];
    const auto bears = [&tax](const BillLine& line) {
      return applies(tax, line.kind) &&
             (line.parts.empty() || std::ranges::any_of(line.parts, [&tax](const BillLine::Part& part) {
                return applies(tax, part.kind);
              }));
    };
    if (std::ranges::none_of(lines, bears)) continue;
    taxes.push_back({tax.name, tax.rate, tax.included, tax.compound, till.rounded(taxable[i]), amounts[i]});
  }
  return taxes;
}

Exact with_added_taxes(const Shop& shop, const Till& till, const BillLine& line) {
  Exact sum = till.units(line.amount);
  for (const NetLine& net : net_lines(shop, till, line))
    sum += net.net * (one_and(shop, net.effective, false) - Exact::whole(1));
  return sum;
}

Exact net_share(const Shop& shop, LineKind kind) {
  return Exact::whole(1) / one_and(shop, effective_rates(shop, kind, kind), true);
}

}  // namespace mendworth

#include "answers/bulk_quotations.hpp"

#include <fmt/format.h>

#include <functional>
#include <utility>

#include "mendworth/diagnostic.hpp"

namespace mendworth {
namespace {

std::string list_of(const std::vector<std::string>& names) {
  std::string text = "known are: ";
  for (std::size_t i = 0; i < names.size(); ++i) text += (i == 0 ? "'" : ", '") + names[i] + "'";
  return text;
}

class QuotationLayer {
 public:
  /// The case that a candidate's quoted offer goes into.
  using CaseFor = std::function<Case&(const std::string& quotation, int part, int candidate)>;
  QuotationLayer(const Case& c, CaseFor case_for) : c_(c), case_for_(std::move(case_for)) {}

  void lay_all(const std::vector<QuotedLadder>& quotations) {
    for (const QuotedLadder& quoted : quotations) lay(quoted);
    if (!problems_.empty()) throw InputError(problems_);
  }

 private:
  void lay(const QuotedLadder& quoted) {
    int part = 0, number = 0;
    if (!find(quoted.candidate, part, number)) {
      std::vector<std::string> names;
      for (const Part& p : c_.parts) {
        for (const Candidate& candidate : p.candidates) names.push_back(candidate.name);
      }
      fail(quoted, "candidate", fmt::format("the case has no candidate '{}'", quoted.candidate),
           list_of(names));
      return;
    }
    const auto& own = c_.parts[static_cast<std::size_t>(part)].candidates[static_cast<std::size_t>(number)];
    const auto supplier = supplier_of_quote(quoted, own);
    if (!supplier) return;
    double rate = 1;
    const Supplier& terms = c_.suppliers[*supplier];
    if (!quoted.currency.empty() && quoted.currency != terms.currency) {
      if (quoted.currency != c_.device.currency) {
        fail(quoted, "currency",
             fmt::format("'{}' is neither the currency of '{}' nor the case's", quoted.currency, terms.name),
             fmt::format("quote in {} or {}", terms.currency, c_.device.currency));
        return;
      }
      // Only the goods are quoted so; shipping and limits stay in the supplier's own currency.
      rate = terms.exchange_rate.base();
    }
    Offer offer;
    offer.supplier = static_cast<int>(*supplier);
    offer.least = quoted.least.value_or(1);
    offer.multiple = quoted.multiple.value_or(1);
    for (const auto& step : quoted.prices)
      offer.prices.push_back({.from = step.from, .each = Quantity::exactly(step.each / rate)});
    Case& changed = case_for_(quoted.quotation, part, number);
    if (quoted.lead_days) {
      Supplier apart = changed.suppliers[*supplier];
      apart.lead_days = Quantity::exactly(*quoted.lead_days);
      offer.supplier = static_cast<int>(changed.suppliers.size());
      changed.suppliers.push_back(std::move(apart));
    }
    changed.parts[static_cast<std::size_t>(part)]
        .candidates[static_cast<std::size_t>(number)]
        .offers.push_back(std::move(offer));
  }

  [[nodiscard]] bool find(const std::string& name, int& part, int& number) const {
    for (std::size_t p = 0; p < c_.parts.size(); ++p) {
      const auto& candidates = c_.parts[p].candidates;
      for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (candidates[i].name != name) continue;
        part = static_cast<int>(p);
        number = static_cast<int>(i);
        return true;
      }
    }
    return false;
  }

  [[nodiscard]] std::optional<std::size_t> supplier_of_quote(const QuotedLadder& quoted,
                                                             const Candidate& own) {
    if (quoted.supplier.empty()) return static_cast<std::size_t>(own.offers.front().supplier);
    std::vector<std::string> names;
    for (std::size_t s = 0; s < c_.suppliers.size(); ++s) {
      if (c_.suppliers[s].name == quoted.supplier) return s;
      names.push_back(c_.suppliers[s].name);
    }
    fail(quoted, "supplier",
         fmt::format("the case has no supplier '{}', whose shipping and taxes it must tell", quoted.supplier),
         list_of(names));
    return std::nullopt;
  }

  void fail(const QuotedLadder& quoted, std::string key, std::string message, std::string remedy) {
    problems_.push_back(
        {quoted.quotation, quoted.line, 0, std::move(key), std::move(message), std::move(remedy)});
  }

  const Case& c_;
  CaseFor case_for_;
  std::vector<Diagnostic> problems_;
};

}  // namespace

std::vector<QuotedCase> quoted_cases(const Case& c, const std::vector<QuotedLadder>& quotations) {
  std::vector<QuotedCase> cases;
  // Rows of one file about one candidate compete; those of two files do not.
  QuotationLayer(c, [&](const std::string& quotation, int part, int candidate) -> Case& {
    for (QuotedCase& known : cases) {
      if (known.quotation == quotation && known.part == part && known.candidate == candidate) return known.c;
    }
    cases.push_back({quotation, part, candidate, c});
    Case& fresh = cases.back().c;
    fresh.parts[static_cast<std::size_t>(part)]
        .candidates[static_cast<std::size_t>(candidate)]
        .offers.clear();
    return fresh;
  }).lay_all(quotations);
  return cases;
}

void add_offers(Case& c, const std::vector<QuotedLadder>& quotations) {
  const Case before = c;
  QuotationLayer(before, [&](const std::string&, int, int) -> Case& { return c; }).lay_all(quotations);
}

}  // namespace mendworth

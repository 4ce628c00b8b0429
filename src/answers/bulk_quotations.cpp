#include "answers/bulk_quotations.hpp"

#include <fmt/format.h>

#include <algorithm>

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
  QuotationLayer(const Case& c, std::vector<QuotedCase>& out) : c_(c), out_(out) {}

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
    Case& changed = case_for(quoted.quotation, part, number);
    Supplier terms = c_.suppliers[*supplier];
    if (!quoted.currency.empty() && quoted.currency != terms.currency) {
      if (quoted.currency != c_.device.currency) {
        fail(quoted, "currency",
             fmt::format("'{}' is neither the currency of '{}' nor the case's", quoted.currency, terms.name),
             fmt::format("quote in {} or {}", terms.currency, c_.device.currency));
        return;
      }
      // Only the goods are quoted so; shipping and limits stay in the supplier's own currency.
      quote_rate_ = terms.exchange_rate.base();
    }
    if (quoted.lead_days) terms.lead_days = Quantity::exactly(*quoted.lead_days);
    Offer offer;
    offer.supplier = static_cast<int>(changed.suppliers.size());
    offer.least = quoted.least.value_or(1);
    offer.multiple = quoted.multiple.value_or(1);
    for (const auto& step : quoted.prices)
      offer.prices.push_back({.from = step.from, .each = Quantity::exactly(step.each / quote_rate_)});
    quote_rate_ = 1;
    changed.suppliers.push_back(std::move(terms));
    changed.parts[static_cast<std::size_t>(part)]
        .candidates[static_cast<std::size_t>(number)]
        .offers.push_back(std::move(offer));
  }

  [[nodiscard]] std::vector<Diagnostic>& problems() noexcept { return problems_; }

 private:
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

  /// Rows of one file about one candidate compete; those of two files do not.
  Case& case_for(const std::string& quotation, int part, int number) {
    for (QuotedCase& known : out_) {
      if (known.quotation == quotation && known.part == part && known.candidate == number) return known.c;
    }
    out_.push_back({quotation, part, number, c_});
    Case& fresh = out_.back().c;
    fresh.parts[static_cast<std::size_t>(part)].candidates[static_cast<std::size_t>(number)].offers.clear();
    return fresh;
  }

  void fail(const QuotedLadder& quoted, std::string key, std::string message, std::string remedy) {
    problems_.push_back(
        {quoted.quotation, quoted.line, 0, std::move(key), std::move(message), std::move(remedy)});
  }

  const Case& c_;
  std::vector<QuotedCase>& out_;
  std::vector<Diagnostic> problems_;
  double quote_rate_ = 1;
};

}  // namespace

std::vector<QuotedCase> quoted_cases(const Case& c, const std::vector<QuotedLadder>& quotations) {
  std::vector<QuotedCase> cases;
  QuotationLayer layer(c, cases);
  for (const QuotedLadder& quoted : quotations) layer.lay(quoted);
  if (!layer.problems().empty()) throw InputError(layer.problems());
  return cases;
}

}  // namespace mendworth

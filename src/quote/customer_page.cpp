#include "quote/customer_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "mendworth/written.hpp"
#include "model/pricing.hpp"

namespace mendworth {
namespace {

using Kind = CustomerChoice::Kind;

Date days_after(const Date& date, int days) {
  using namespace std::chrono;
  const sys_days day = year_month_day{year{date.year}, month{static_cast<unsigned>(date.month)},
                                      std::chrono::day{static_cast<unsigned>(date.day)}};
  const year_month_day then{day + std::chrono::days{days}};
  return {static_cast<int>(then.year()), static_cast<int>(static_cast<unsigned>(then.month())),
          static_cast<int>(static_cast<unsigned>(then.day()))};
}

std::string counted(int count, const std::string& one, const std::string& many) {
  return fmt::format("{} {}", count, count == 1 ? one : many);
}

int failed_in(const Case& c) {
  int failed = 0;
  for (const PositionGroup& group : c.positions) failed += group.failed;
  return failed;
}

/// Old ones of the renewed parts that this choice leaves in.
int mates_left(const Case& c, const JobPlan& plan) {
  int left = 0;
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    const PositionGroup& group = c.positions[g];
    if (plan.pieces[static_cast<std::size_t>(group.part)] == 0) continue;
    const auto renewed = static_cast<int>(std::ranges::count(plan.groups, static_cast<int>(g)));
    left += group.count - group.renewed - renewed;
  }
  return left;
}

std::string fault_text(const Case& c) {
  if (c.intake.fault) return *c.intake.fault;
  std::string text;
  for (const PositionGroup& group : c.positions) {
    if (group.failed == 0) continue;
    text += text.empty() ? "" : ", ";
    text +=
        group.count == 1 ? group.name : fmt::format("{} ({} of {})", group.name, group.failed, group.count);
  }
  return "Failed: " + text + ".";
}

std::vector<std::string> work_of(const Case& c, const JobPlan& plan, bool parts_from_customer) {
  std::vector<std::string> work;
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    const auto renewed = static_cast<int>(std::ranges::count(plan.groups, static_cast<int>(g)));
    if (renewed == 0) continue;
    work.push_back(fmt::format("{}: {} x {}, {}.", c.positions[g].name, renewed,
                               c.parts[static_cast<std::size_t>(c.positions[g].part)].name,
                               parts_from_customer ? "which you bring" : "new"));
  }
  work.push_back("The device is opened, cleaned where it was opened, closed and tested.");
  return work;
}

std::string why_of(const Case& c, const JobPlan& plan) {
  const int left = mates_left(c, plan);
  switch (plan.kind) {
    case Kind::failed_only:
      if (left == 0) return "Only what has failed is renewed.";
      return fmt::format(
          "The lowest price now. {} of the same kind, of the same age, {} in; if one fails later, that is a "
          "new repair with its own opening, wait and price.",
          counted(left, "old part", "old parts"), left == 1 ? "stays" : "stay");
    case Kind::with_mates:
      return "The parts of the same kind have the same age and much the same wear. While the device is open, "
             "renewing them too costs little more than the parts and the extra minutes; a later failure "
             "would cost another opening, another wait and another delivery.";
    case Kind::every_original: break;
  }
  return "Every wear part that we looked at is as old as the one that failed. All are renewed in one "
         "opening, so that none of them needs another one soon.";
}

std::string warranty_text(const Shop& shop, bool parts_from_customer) {
  if (!shop.warranty_days) return "";
  const std::string law = "Your rights under local law come first and are not limited by this.";
  if (*shop.warranty_days == 0) return "No warranty beyond what local law gives. " + law;
  const std::string days = counted(*shop.warranty_days, "day", "days");
  if (parts_from_customer) return fmt::format("{} on our work; none on parts that you bring. {}", days, law);
  return fmt::format("{} on our work and on the new parts; not on old parts that stay in. {}", days, law);
}

/// How a sum stands to the taxes on it: nothing where there are none.
std::string tax_words(const Bill& bill) {
  const auto bears = [&bill](bool included) {
    return std::ranges::any_of(
        bill.taxes, [included](const BillTax& tax) { return tax.included == included && tax.rate > 0; });
  };
  if (bears(false)) return " before tax";
  return bears(true) ? ", tax included" : "";
}

std::string diagnosis_text(const Shop& shop, const Currency& currency, const Bill& decline) {
  if (!shop.diagnosis_fee) return "";
  std::string fee = written(decline.subtotal, currency, shop.style) + tax_words(decline);
  if (decline.total != decline.subtotal) {
    fee += fmt::format(" ({} with it)", written(decline.total, currency, shop.style));
  }
  return shop.diagnosis_credited
             ? fmt::format("A repair includes the diagnosis; without one it costs {}.", fee)
             : fmt::format("The diagnosis costs {}; the totals above hold it.", fee);
}

std::string no_cure_text(const Shop& shop, const Currency& currency, const PageTerms& terms) {
  const bool paid = terms.decline.paid > Money{};
  if (!terms.no_cure) {
    return std::string("If it cannot be repaired, nothing is charged") +
           (paid ? ", and what is paid already is given back." : ".");
  }
  return fmt::format("If it cannot be repaired, {} is charged in all{}{}.",
                     written(terms.no_cure->total, currency, shop.style),
                     terms.no_cure->taxes.empty() ? "" : ", tax included",
                     paid ? "; what is paid already counts towards it" : "");
}

std::string risk_text(const Shop& shop, const Currency& currency) {
  std::string risk = "Opening and soldering an old device can damage it, however careful the hand.";
  if (!shop.liability) return risk;
  return fmt::format("{} If it is lost on our bench, nothing is charged and we pay you {}.", risk,
                     written(rounded(*shop.liability, currency), currency, shop.style));
}

/// No more than the futures bear out.
std::string judgement_text(Confidence confidence) {
  switch (confidence) {
    case Confidence::clear: return "Worth repairing, in our judgement.";
    case Confidence::leaning: return "Probably worth repairing, in our judgement.";
    case Confidence::toss_up: break;
  }
  return "Over the years a repair and the best way to do without it come to about the same, as far as we can "
         "tell: either is a sound choice.";
}

std::string advice_text(const Case& c, const std::vector<PricedChoice>& choices, const PageTerms& terms) {
  if (terms.guarantee_live) {
    return "We do not advise this repair now: the guarantee has not ended, so claim on it first. Opening the "
           "device may end it. We quote the repair because it was asked for.";
  }
  if (!terms.worth_repairing) {
    return "We do not advise this repair: over the years one of the ways below to do without it is expected "
           "to cost you less. We quote it because it was asked for.";
  }
  const auto best = std::ranges::find_if(choices, &PricedChoice::recommended);
  const std::string which = title_of(c, best->plan);
  std::string advice = terms.judgement ? judgement_text(*terms.judgement) : "";
  if (choices.size() > 1) {
    advice += advice.empty() ? "" : " ";
    advice += fmt::format(
        "{}: {}.",
        terms.judgement == Confidence::toss_up ? "If you have it repaired, we advise" : "We advise", which);
  }
  return advice.empty() ? "This is the repair that we can offer." : advice;
}

std::vector<CustomerAlternative> alternatives_of(const Case& c) {
  std::vector<CustomerAlternative> alternatives;
  if (c.device.must_keep) return alternatives;
  for (const Replacement& replacement : c.replacements) {
    CustomerAlternative alternative{
        .name = replacement.name,
        .days = static_cast<int>(std::ceil(replacement.delivery_days.base() - 1e-9))};
    if (replacement.price) alternative.price = rounded(purchase_price(replacement), currency_of(c));
    alternatives.push_back(std::move(alternative));
  }
  return alternatives;
}

}  // namespace

std::string title_of(const Case& c, const JobPlan& plan) {
  const bool several = failed_in(c) > 1;
  switch (plan.kind) {
    case Kind::failed_only: return several ? "The failed parts only" : "The failed part only";
    case Kind::with_mates:
      return several ? "The failed parts and their mates" : "The failed part and its mates";
    case Kind::every_original: break;
  }
  return "Every old wear part";
}

CustomerPage page_head(const Case& c, const Shop& shop, const QuoteSettings& settings) {
  CustomerPage page;
  page.currency = currency_of(c);
  page.style = shop.style;
  page.letterhead = shop.letterhead;
  page.number = settings.number;
  page.date = settings.date;
  page.customer = c.intake.customer;
  page.device = c.device.name;
  page.serial = c.intake.serial;
  page.condition = c.intake.condition;
  page.fault = fault_text(c);
  page.accessories = c.intake.accessories;
  page.terms = shop.terms;
  return page;
}

CustomerPage customer_page(const Case& c, const Shop& shop, const QuoteSettings& settings,
                           const std::vector<PricedChoice>& choices, const PageTerms& terms) {
  CustomerPage page = page_head(c, shop, settings);
  if (shop.valid_days) page.valid_until = days_after(settings.date, *shop.valid_days);
  page.not_included = c.intake.not_included;
  page.worth_repairing = terms.worth_repairing;
  page.advice = advice_text(c, choices, terms);
  for (const PricedChoice& choice : choices) {
    page.choices.push_back({.kind = choice.plan.kind,
                            .title = title_of(c, choice.plan),
                            .work = work_of(c, choice.plan, terms.parts_from_customer),
                            .why = why_of(c, choice.plan),
                            .bill = choice.bill,
                            .consent_limit = choice.consent_limit,
                            .days_low = choice.plan.days_low,
                            .days_high = choice.plan.days_high,
                            .recommended = choice.recommended && terms.worth_repairing});
  }
  page.alternatives = alternatives_of(c);
  page.warranty = warranty_text(shop, terms.parts_from_customer);
  page.decline = terms.decline;
  page.diagnosis = diagnosis_text(shop, page.currency, terms.decline);
  if (shop.not_to_exceed || shop.ceiling_confidence || settings.ceiling) {
    page.consent =
        "We ask for your consent before there is more to pay than the limit of the choice that you take, and "
        "before anything is done that is not listed.";
  }
  page.if_not_repaired = no_cure_text(shop, page.currency, terms);
  page.risk = risk_text(shop, page.currency);
  page.data = "If it stores data or settings, save a copy first: a repair can lose them.";
  page.safe_return =
      "Repaired, it is tested before it goes back. Unrepaired, it goes back with its fault: do not use it "
      "before that is put right.";
  return page;
}

CustomerPage invoice_page(const Case& c, const Shop& shop, const QuoteSettings& settings, const Bill& bill,
                          const std::string& advice) {
  CustomerPage page = page_head(c, shop, settings);
  page.document = CustomerPage::Document::decline_invoice;
  page.advice = advice;
  page.invoice = bill;
  return page;
}

}  // namespace mendworth

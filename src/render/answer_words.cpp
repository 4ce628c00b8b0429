#include "render/answer_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

std::string Sums::amount(double value) const {
  return kept_together(amount_text(value, currency_, minor_digits_));
}

std::string Sums::estimate(double value, double error) const {
  return kept_together(currency_ + " " + supported_money_text(value, error, minor_digits_));
}

std::string Sums::cell(double value, double largest, double error) const {
  constexpr double no_room_for_digits = 100'000;
  return supported_money_text(value, error, std::abs(largest) >= no_room_for_digits ? 0 : minor_digits_);
}

std::string Sums::each(double value, const std::string& currency) const {
  constexpr int usual_digits = 2;
  return currency == currency_ ? unit_price_text(value, minor_digits_)
                               : currency + " " + unit_price_text(value, usual_digits);
}

std::string percent(double share) { return kept_together(percent_text(share)); }

std::string date_text(const Date& date) {
  return fmt::format("{:04}-{:02}-{:02}", date.year, date.month, date.day);
}

std::string part_text(const std::string& part, const std::string& candidate) {
  return part == candidate ? part : part + ": " + candidate;
}

std::string listed(const std::vector<std::string>& items) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) text += i + 1 == items.size() ? " and " : ", ";
    text += items[i];
  }
  return text;
}

Document answer_document(const std::string& title) {
  Document document;
  document.name = document.title = title;
  document.answer = true;
  return document;
}

const OptionResult* find_option(const Weighing& w, const std::optional<std::string>& name) {
  for (const OptionResult& option : w.options) {
    if (option.name == name) return &option;
  }
  return nullptr;
}

}  // namespace mendworth

#pragma once

#include <cstdint>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "mendworth/quote.hpp"
#include "render/layout.hpp"

/// Bills read back out of finished pages, as a reader with a pocket calculator would.
namespace mendworth::testing {

struct PrintedRow {
  std::string label;
  std::int64_t minor = 0;
};
using PrintedBill = std::vector<PrintedRow>;

/// The digits of a printed sum as a whole number: every format prints all digits of the currency.
inline std::int64_t minor_of(const std::string& printed) {
  std::string digits;
  for (const char c : printed) {
    if (c == '-' || (c >= '0' && c <= '9')) digits += c;
  }
  return std::stoll(digits);
}

inline std::string trimmed(const std::string& text) {
  const auto from = text.find_first_not_of(' ');
  return from == std::string::npos ? "" : text.substr(from, text.find_last_not_of(' ') - from + 1);
}

inline std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// A row of a bill in text ends at the right edge of the table with its amount.
inline std::vector<PrintedBill> bills_of_text(const std::string& text) {
  std::vector<PrintedBill> bills;
  int width = 0;  // of the bill that is being read; 0: none
  bool headed = false;
  for (const std::string& line : lines_of(text)) {
    if (line.starts_with("  Work and parts")) {
      headed = true;
    } else if (headed && line.starts_with("  ---")) {
      if (width == 0) bills.emplace_back();
      width = display_width(line);
    } else if (line.empty()) {
      width = 0;
      headed = false;
    } else if (width > 0 && display_width(line) == width) {
      const std::size_t gap = line.rfind("  ") + 1;
      const std::string row = trimmed(line);
      bills.back().push_back({row.substr(0, row.find("  ")), minor_of(line.substr(gap + 1))});
    }
  }
  return bills;
}

inline std::string without_backslashes(const std::string& text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\\' && i + 1 < text.size()) ++i;
    out += text[i];
  }
  return out;
}

/// Cells of a row of a Markdown table as they read when shown: marks of strong text and escapes taken off.
inline std::vector<std::string> markdown_cells(const std::string& line) {
  std::vector<std::string> cells(1);
  for (std::size_t i = 1; i < line.size(); ++i) {
    if (line[i] == '\\') {
      cells.back() += line.substr(i, 2);
      ++i;
    } else if (line[i] == '|') {
      cells.emplace_back();
    } else {
      cells.back() += line[i];
    }
  }
  cells.pop_back();  // after the last bar
  for (std::string& cell : cells) {
    cell = trimmed(cell);
    if (cell.starts_with("**")) cell = cell.substr(2, cell.size() - 4);
    cell = without_backslashes(cell);
  }
  return cells;
}

inline std::vector<PrintedBill> bills_of_markdown(const std::string& text) {
  std::vector<PrintedBill> bills;
  bool inside = false;
  for (const std::string& line : lines_of(text)) {
    if (line.starts_with("| Work and parts")) {
      bills.emplace_back();
      inside = true;
    } else if (!line.starts_with("|")) {
      inside = false;
    } else if (inside && line.find("---:") == std::string::npos) {
      const auto cells = markdown_cells(line);
      bills.back().push_back({cells.front(), minor_of(cells.back())});
    }
  }
  return bills;
}

/// The characters that a piece of HTML shows: no tags, entities read.
inline std::string shown(const std::string& html) {
  static const std::vector<std::pair<std::string, std::string>> entities{
      {"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}};
  std::string out;
  for (std::size_t i = 0; i < html.size(); ++i) {
    if (html[i] == '<') {
      i = html.find('>', i);
      continue;
    }
    bool entity = false;
    for (const auto& [name, character] : entities) {
      if (html.compare(i, name.size(), name) != 0) continue;
      out += character;
      i += name.size() - 1;
      entity = true;
      break;
    }
    if (!entity) out += html[i];
  }
  return out;
}

inline std::vector<PrintedBill> bills_of_html(const std::string& html) {
  std::vector<PrintedBill> bills;
  bool inside = false;
  for (const std::string& line : lines_of(html)) {
    if (line.find(">Work and parts<") != std::string::npos) {
      bills.emplace_back();
      inside = true;
    } else if (line == "</table>") {
      inside = false;
    } else if (inside && line.starts_with("<tr")) {
      const std::string label = line.substr(0, line.find("</th>"));
      bills.back().push_back({shown(label), minor_of(shown(line.substr(line.rfind("<td"))))});
    }
  }
  return bills;
}

/// The same rows from the JSON of a bill, under the labels of the pages.
inline PrintedBill bill_of_json(const nlohmann::json& bill) {
  PrintedBill rows;
  const auto minor = [](const nlohmann::json& sum) {
    const auto value = sum["minor"].get<std::int64_t>();
    return minor_of(sum["text"].get<std::string>()) == value ? value : INT64_MIN;
  };
  bool adds = false;
  for (const auto& line : bill["lines"]) rows.push_back({line["text"], minor(line["amount"])});
  for (const auto& tax : bill["taxes"]) adds = adds || !tax["included"].get<bool>();
  if (adds) rows.push_back({"Subtotal", minor(bill["subtotal"])});
  for (const auto& tax : bill["taxes"]) {
    if (!tax["included"].get<bool>()) rows.push_back({tax["name"], minor(tax["amount"])});
  }
  const bool paid =
      minor(bill["subsidy"]) == 0 && minor(bill["paid"]) == 0 && minor(bill["cash_rounding"]) == 0;
  rows.push_back({paid ? "Total to pay" : "Total", minor(bill["total"])});
  for (const auto& tax : bill["taxes"]) {
    if (tax["included"].get<bool>())
      rows.push_back({"of which " + tax["name"].get<std::string>(), minor(tax["amount"])});
  }
  if (minor(bill["subsidy"]) != 0) rows.push_back({"Less: ", -minor(bill["subsidy"])});
  if (minor(bill["paid"]) != 0) rows.push_back({"Less: paid already", -minor(bill["paid"])});
  if (minor(bill["cash_rounding"]) != 0)
    rows.push_back({"Rounding to the least coin", minor(bill["cash_rounding"])});
  if (minor(bill["payable"]) < 0) {
    rows.push_back({"Given back", -minor(bill["payable"])});
  } else if (!paid) {
    rows.push_back({"To pay", minor(bill["payable"])});
  }
  if (!bill["deposit"].is_null()) {
    rows.push_back({"Deposit, paid with the order", minor(bill["deposit"])});
    rows.push_back({"Left to pay on collection", minor(bill["payable"]) - minor(bill["deposit"])});
  }
  return rows;
}

inline std::vector<PrintedBill> bills_of_json(const std::string& text) {
  const auto page = nlohmann::json::parse(text);
  std::vector<PrintedBill> bills;
  for (const auto& choice : page["choices"]) bills.push_back(bill_of_json(choice["bill"]));
  if (!page["invoice"].is_null()) bills.push_back(bill_of_json(page["invoice"]));
  return bills;
}

/// What does not add up in a printed bill of so many lines; empty: nothing.
inline std::string wrong_in(const PrintedBill& printed, std::size_t lines) {
  std::int64_t sum = 0;
  bool totalled = false;
  for (std::size_t i = 0; i < printed.size(); ++i) {
    const PrintedRow& row = printed[i];
    if (i < lines) {
      sum += row.minor;
    } else if (row.label == "Subtotal" || row.label == "Total" || row.label == "Total to pay" ||
               row.label == "To pay") {
      if (row.minor != sum) return row.label + " is not the sum of what stands above it";
      totalled = totalled || row.label != "Subtotal";
    } else if (row.label == "Given back") {
      if (row.minor != -sum) return "what is given back is not what was paid too much";
    } else if (row.label.starts_with("Deposit")) {
      sum -= row.minor;
    } else if (row.label.starts_with("Left to pay")) {
      if (row.minor != sum) return "deposit and rest are not what is to be paid";
    } else if (!row.label.starts_with("of which")) {
      sum += row.minor;
    }
  }
  return totalled ? "" : "there is no total";
}

}  // namespace mendworth::testing

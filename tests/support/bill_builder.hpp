#pragma once

#include <algorithm>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "quote/bill.hpp"

/// Small jobs for tests of bills.
namespace mendworth::test {

inline Case case_with_parts(const std::vector<std::string>& names) {
  Case c;
  for (const std::string& name : names) {
    Part part;
    part.name = name;
    c.parts.push_back(std::move(part));
  }
  return c;
}

inline JobWork work_of(double minutes) {
  JobWork work;
  work.text = "Labour";
  work.minutes = minutes;
  return work;
}

inline JobWork::Piece pieces(int part, int count, double unit_cost) {
  JobWork::Piece piece;
  piece.part = part;
  piece.name = "Piece " + std::to_string(part);
  piece.pieces = count;
  piece.unit_cost = unit_cost;
  return piece;
}

inline Tax tax(std::string name, double rate, bool included = false, bool compound = false,
               std::vector<LineKind> exempt = {}) {
  Tax out;
  out.name = std::move(name);
  out.rate = rate;
  out.included = included;
  out.compound = compound;
  out.exempt = std::move(exempt);
  return out;
}

inline BillLine bill_line(LineKind kind, std::int64_t minor) {
  BillLine line;
  line.kind = kind;
  line.text = name_of(kind);
  line.amount = Money{minor};
  return line;
}

/// The first line of a kind; a null pointer if there is none.
inline const BillLine* line_of(const Bill& bill, LineKind kind) {
  const auto found = std::find_if(bill.lines.begin(), bill.lines.end(),
                                  [kind](const BillLine& line) { return line.kind == kind; });
  return found == bill.lines.end() ? nullptr : &*found;
}

inline std::vector<std::int64_t> amounts(const Bill& bill) {
  std::vector<std::int64_t> minor;
  for (const BillLine& line : bill.lines) minor.push_back(line.amount.minor);
  return minor;
}

}  // namespace mendworth::test

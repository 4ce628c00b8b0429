#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"

namespace mendworth {
namespace {

constexpr const char* no_figure = "-";

Sums sums_of(const SharedOrder& a) { return {a.currency, a.minor_digits}; }
Currency currency_of(const SharedOrder& a) { return {a.currency, a.minor_digits}; }

/// A device by its name, or by its file where others have the same.
std::string name_of(const SharedOrder& a, const SharedJob& job) {
  const auto same = std::ranges::count(a.jobs, job.device, &SharedJob::device);
  return same > 1 ? fmt::format("{} ({})", job.device, job.source_name) : job.device;
}

std::string course_of(const SharedJob& job, bool repaired, bool stripped = false) {
  if (repaired) return "repair";
  if (stripped) return "strip for parts; " + job.instead;
  return job.instead.empty() ? "cannot be repaired" : job.instead;
}

std::vector<std::string> names_of_repaired(const SharedOrder& a) {
  std::vector<std::string> names;
  for (const SharedJob& job : a.jobs) {
    if (job.repaired) names.push_back(name_of(a, job));
  }
  return names;
}

std::string together_words(const SharedOrder& a) {
  const Sums sums = sums_of(a);
  if (!a.together_saves) return "Not every device that must be repaired could be ordered for by itself.";
  const double saves = *a.together_saves;
  if (rounded(saves, currency_of(a)) == Money{})
    return "It costs as much as if each device were decided on and ordered for by itself.";
  if (saves < 0) {
    return fmt::format("Better order apart: one order costs {} more than one for each device by itself.",
                       sums.amount(-saves));
  }
  return fmt::format("In all {} less than if each device were decided on and ordered for by itself.",
                     sums.amount(saves));
}

std::vector<DocumentBlock> opening_of(const SharedOrder& a) {
  const Sums sums = sums_of(a);
  std::vector<DocumentBlock> blocks;
  if (names_of_repaired(a).empty()) {
    blocks.emplace_back(Paragraph{"There is nothing to order: no repair is worth it.", true});
  } else {
    const std::vector<std::string> names = names_of_repaired(a);
    blocks.emplace_back(
        Paragraph{fmt::format("Repair {} of {} with one order, {} at the doorstep: {}.", names.size(),
                              count_text(static_cast<long long>(a.jobs.size()), "device", "devices"),
                              sums.amount(a.order.landed),
                              names.size() == a.jobs.size() ? "all of them" : listed(names)),
                  true});
  }
  blocks.emplace_back(Paragraph{together_words(a)});
  blocks.emplace_back(Paragraph{
      a.proved
          ? std::string("No other choice of repairs and no other basket costs less.")
          : fmt::format("A limit stopped the search: another choice may cost less, but by no more than {}.",
                        sums.amount(a.gap))});
  return blocks;
}

Table jobs_table(const SharedOrder& a, const char* name) {
  const Sums sums = sums_of(a);
  Table table;
  table.name = name;
  table.columns = {{"device", false},
                   {"together", false},
                   {"by itself", false},
                   {"order by itself"},
                   {"share"},
                   {"wait days"},
                   {"saves"}};
  for (const SharedJob& job : a.jobs) {
    table.add(
        {name_of(a, job), course_of(job, job.repaired, job.stripped),
         course_of(job, job.alone && job.alone->pays), job.alone ? sums.cell(job.alone->landed) : no_figure,
         job.repaired ? sums.cell(in_units(job.share, currency_of(a))) : no_figure,
         job.repaired ? decimals_text(job.wait_days, 1) : no_figure,
         job.repaired && !job.must_be ? sums.cell(job.value - job.net(currency_of(a)), 0, job.value_error)
                                      : no_figure},
        job.repaired ? Table::Role::best : Table::Role::plain, job.repaired ? "*" : "");
  }
  return table;
}

Section jobs_section(const SharedOrder& a) {
  Section section{fmt::format("Which to repair ({})", a.currency)};
  section.add(jobs_table(a, "jobs"));
  section.say(
      "* repaired. share: what the device pays of the order, by value; saves: what its repair costs less "
      "than the best other course, at that share.");
  if (std::ranges::any_of(a.jobs, [&](const SharedJob& job) {
        return job.repaired && !job.must_be && job.value < job.net(currency_of(a));
      })) {
    section.say(
        "A device whose share is more than its repair saves is worth it all the same: it adds less to the "
        "order than that (see who pays what), and the others pay less than without it.");
  }
  return section;
}

std::string for_words(const SharedOrder& a, const std::vector<SharedLine::For>& wanted_by) {
  std::vector<std::string> jobs;
  for (const SharedLine::For& wanted : wanted_by)
    jobs.push_back(fmt::format("{} {}", wanted.pieces, name_of(a, a.jobs[wanted.job])));
  return fmt::format("{}", fmt::join(jobs, ", "));
}

std::vector<std::string> taken_words(const SharedOrder& a) {
  std::vector<std::string> words;
  for (const SharedTaken& taken : a.taken) {
    words.push_back(
        fmt::format("take {} x {} {}, which costs {}; for {}", taken.pieces, taken.candidate,
                    taken.from ? "out of " + name_of(a, a.jobs[*taken.from]) : std::string("from the drawer"),
                    sums_of(a).amount(taken.cost), for_words(a, taken.jobs)));
  }
  return words;
}

Section lines_section(const SharedOrder& a) {
  Section section{"What to order"};
  const Sums sums = sums_of(a);
  section.list(taken_words(a));
  if (a.lines.empty()) return section;
  Table table;
  table.name = "order";
  table.columns = {{"piece", false}, {"supplier", false},           {"need"},      {"order"},
                   {"each"},         {"landed " + sums.currency()}, {"for", false}};
  for (const SharedLine& entry : a.lines) {
    const OrderLine& line = entry.line;
    table.add({part_text(line.part, line.candidate), line.supplier, fmt::format("{}", line.needed),
               fmt::format("{}", line.quantity), sums.each(line.each, line.supplier_currency),
               sums.cell(line.landed), for_words(a, entry.jobs)});
  }
  section.add(std::move(table));
  section.say(landed_words(a.order, sums));
  if (a.order.leftovers > 0) {
    section.say(fmt::format("{} left over, worth {}.", count_text(a.order.leftovers, "piece", "pieces"),
                            sums.amount(a.order.leftover_value)));
  }
  section.list(a.order.warnings);
  return section;
}

Section split_section(const SharedOrder& a) {
  Section section{fmt::format("Who pays what ({})", a.currency)};
  const Sums sums = sums_of(a);
  const Currency currency = currency_of(a);
  Table table;
  table.name = "split";
  table.columns = {{"device", false}, {"share"}, {"taken"}, {"waiting"},      {"misfit"},
                   {"worth left"},    {"net"},   {"adds"},  {"net by itself"}};
  Money shares{};
  double taken = 0, waiting = 0, misfit = 0, left = 0;
  for (const SharedJob& job : a.jobs) {
    if (!job.repaired) continue;
    shares += job.share;
    taken += job.taken_cost;
    waiting += job.wait_cost;
    misfit += job.misfit_cost;
    left += job.leftover_worth;
    table.add({name_of(a, job), sums.cell(in_units(job.share, currency)), sums.cell(job.taken_cost),
               sums.cell(job.wait_cost), sums.cell(job.misfit_cost), sums.cell(job.leftover_worth),
               sums.cell(job.net(currency)), job.adds ? sums.cell(*job.adds) : no_figure,
               job.alone ? sums.cell(job.alone->net) : no_figure});
  }
  if (table.rows.empty()) return section;
  table.add({"in all", sums.cell(in_units(shares, currency)), sums.cell(taken), sums.cell(waiting),
             sums.cell(misfit), sums.cell(left),
             sums.cell(in_units(shares, currency) + taken + waiting + misfit - left), "", ""},
            Table::Role::total);
  section.add(std::move(table));
  section.say(
      "share: each line bears its supplier's parcel by value, each device the line by the pieces it needs; "
      "the shares add up to the order. taken: pieces of the drawer, priced at what they would save "
      "elsewhere, or out of devices that are given up, with the labour and what their age costs. adds: what "
      "the order would cost less, net, without this device.");
  return section;
}

Section hazards_of_shared(const SharedOrder& a) { return hazards_section(a.cautions); }
Section notes_of_shared(const SharedOrder& a) { return notes_section(a.notes); }

constexpr SectionOf<SharedOrder> shared_order_table[] = {{"jobs", jobs_section},
                                                         {"order", lines_section},
                                                         {"split", split_section},
                                                         {"hazards", hazards_of_shared},
                                                         {"notes", notes_of_shared}};

Section short_shared(const SharedOrder& a) {
  Section section{fmt::format("The devices ({})", a.currency)};
  section.add(jobs_table(a, "jobs-short"));
  constexpr std::size_t most_lines = 8;
  std::vector<std::string> todo = taken_words(a);
  for (std::string& line : order_lines(a.order, sums_of(a), most_lines)) todo.push_back(std::move(line));
  section.list(std::move(todo));
  for (const std::string& warning : a.order.warnings) section.say(warning);
  if (!a.cautions.empty()) section.say(hazards_line(a.cautions));
  for (const std::string& note : a.notes) section.say("Note: " + note);
  return section;
}

}  // namespace

const std::vector<std::string>& shared_order_sections() { return section_names<shared_order_table>(); }

std::string shared_order_page(const SharedOrder& a, const PageStyle& style) {
  Document page = answer_document(fmt::format("One order for {} devices", a.jobs.size()));
  page.opening = opening_of(a);
  page.sections = sections_of(a, shared_order_table);
  page.first_screen = {short_shared(a)};
  page.report = {{"Which to repair", {"jobs"}},
                 {"What to order", {"order"}},
                 {"Who pays what", {"split"}},
                 {"Notes and cautions", {"notes", "hazards"}}};
  page.closing.push_back({fmt::format("Seed {}, mendworth {}.", a.settings.seed, version())});
  return page_of(std::move(page), style);
}

}  // namespace mendworth

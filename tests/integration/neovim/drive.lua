-- Sets Neovim up as the docs say, opens a shot, waits for the notes, changes the text of one line, waits for that
-- line's note to go, and writes down what it saw. Run headless; what to do comes as JSON in KEYSIDE_DRIVE.
local task = vim.fn.json_decode(vim.env.KEYSIDE_DRIVE)
local seen = {}

local function diagnostics()
  local list = {}
  for _, found in ipairs(vim.diagnostic.get(0)) do
    local lsp = found.user_data and found.user_data.lsp or {}
    table.insert(list, {
      line = found.lnum + 1,
      column = found.col + 1,
      text = vim.api.nvim_buf_get_text(0, found.lnum, found.col, found.end_lnum, found.end_col, {})[1],
      severity = found.severity,
      source = found.source,
      code = lsp.code or found.code,
      message = found.message,
    })
  end
  return list
end

local function at_line(code, line)
  for _, found in ipairs(diagnostics()) do
    if found.code == code and found.line == line then
      return true
    end
  end
  return false
end

local function ask(method, line, column)
  local params = {
    textDocument = vim.lsp.util.make_text_document_params(0),
    position = { line = line - 1, character = column - 1 },
  }
  local answers = vim.lsp.buf_request_sync(0, method, params, task.patience)
  for _, answer in pairs(answers or {}) do
    return answer.result
  end
end

local ok, failure = pcall(function()
  dofile(task.setup)
  vim.cmd("edit " .. vim.fn.fnameescape(task.file))
  vim.wait(task.patience, function()
    return #vim.lsp.get_active_clients() > 0
  end, 10)
  local client = vim.lsp.get_active_clients()[1].id
  seen.told = vim.wait(task.patience, function()
    return at_line(task.code, task.line)
  end, 10)
  seen.before = diagnostics()
  seen.hover = ask("textDocument/hover", task.line, task.column + 1)
  seen.symbols = ask("textDocument/documentSymbol", 1, 1)
  vim.api.nvim_buf_set_lines(0, task.line - 1, task.line, true, { task.fixed })
  seen.gone = vim.wait(task.patience, function()
    return not at_line(task.code, task.line)
  end, 10)
  seen.after = diagnostics()
  vim.cmd("undo")
  seen.back = vim.wait(task.patience, function()
    return at_line(task.code, task.line)
  end, 10)
  vim.lsp.stop_client(client)
  seen.stopped = vim.wait(task.patience, function()
    return vim.lsp.client_is_stopped(client)
  end, 10)
end)
if not ok then
  seen.failure = tostring(failure)
end

local out = io.open(task.out, "w")
out:write(vim.fn.json_encode(seen))
out:close()
vim.cmd("qall!")

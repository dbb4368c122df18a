;; Sets Emacs up as the docs say, opens a shot, waits for the notes, changes the text of one line, waits for that
;; line's note to go, and writes down what it saw.  Run at a terminal, so that Emacs is idle between two steps as it is
;; with a user; what to do comes as JSON in KEYSIDE_DRIVE.

(require 'json)
(require 'flymake)

(defvar task (let ((json-object-type 'alist)) (json-read-from-string (getenv "KEYSIDE_DRIVE"))))
(defvar seen nil)
(defun task (name) (alist-get name task))
(defun saw (name value) (push (cons name value) seen))

(defun notes ()
  (mapcar
   (lambda (found)
     (let ((beg (flymake-diagnostic-beg found)) (end (flymake-diagnostic-end found)))
       `((line . ,(line-number-at-pos beg))
         (column . ,(save-excursion (goto-char beg) (1+ (- beg (line-beginning-position)))))
         (text . ,(buffer-substring-no-properties beg end))
         (severity . ,(symbol-name (flymake-diagnostic-type found)))
         (message . ,(flymake-diagnostic-text found)))))
   (flymake-diagnostics)))

(defun note-at-line ()
  (seq-some
   (lambda (found)
     (and (= (task 'line) (alist-get 'line found))
          (string-match-p (regexp-quote (task 'says)) (alist-get 'message found))))
   (notes)))

(defun replace-value (old new)
  "Changes the key's value in its line; the mark around the key stays where it is until the feed says otherwise."
  (goto-char (point-min))
  (forward-line (1- (task 'line)))
  (search-forward ", ")
  (search-forward old (line-end-position))
  (replace-match new t t))

;; What is done one after another.  A step is done once it gives a value; Emacs is idle in between.
(defvar steps
  (list
   (lambda ()
     (load (task 'setup) nil t)
     (switch-to-buffer (find-file (task 'file)))
     (saw 'mode (symbol-name major-mode))
     (saw 'parent (symbol-name (get major-mode 'derived-mode-parent)))
     t)
   (lambda () (when (and (fboundp 'eglot-managed-p) (eglot-managed-p)) (saw 'managed t) t))
   (lambda () (when (note-at-line) (saw 'told t) t))
   (lambda ()
     (saw 'before (vconcat (notes)))
     (goto-char (point-min))
     (forward-line (1- (task 'line)))
     (move-to-column (task 'column))
     (let ((server (eglot-current-server)) (here (eglot--pos-to-lsp-position)))
       (saw 'hover
            (plist-get
             (plist-get
              (jsonrpc-request server :textDocument/hover (eglot--TextDocumentPositionParams)) :contents)
             :value))
       (saw 'actions
            (vconcat
             (mapcar
              (lambda (action) (plist-get action :title))
              (jsonrpc-request
               server :textDocument/codeAction
               (list :textDocument (eglot--TextDocumentIdentifier)
                     :range (list :start here :end here)
                     :context (list :diagnostics [])))))))
     (replace-value (task 'value) (task 'fixed))
     t)
   (lambda () (unless (note-at-line) (saw 'gone t) t))
   (lambda ()
     (saw 'after (vconcat (notes)))
     (replace-value (task 'fixed) (task 'value))
     t)
   (lambda () (when (note-at-line) (saw 'back t) t))
   (lambda ()
     (let ((server (eglot-current-server)))
       (eglot-shutdown server)
       (saw 'stopped (if (jsonrpc-running-p server) :json-false t)))
     t)))

(defun finish ()
  (with-temp-file (task 'out) (insert (json-encode seen)))
  (set-buffer-modified-p nil)
  (kill-emacs))

(defvar until (+ (float-time) (/ (task 'patience) 1000.0)))

(defun advance ()
  ;; A timer may find another buffer current than the one in the window.
  (set-buffer (window-buffer))
  ;; Emacs does this after each command of its user.
  (run-hooks 'post-command-hook)
  (condition-case failure
      (when (funcall (car steps))
        (setq until (+ (float-time) (/ (task 'patience) 1000.0)))
        (pop steps))
    (error (saw 'failure (error-message-string failure)) (finish)))
  (cond
   ((null steps) (finish))
   ((> (float-time) until) (saw 'failure "What was waited for did not come.") (finish))))

(setq inhibit-startup-screen t)
(run-with-timer 0.5 0.1 #'advance)

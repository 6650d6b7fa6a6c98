/** A file of the person's: the field is emptied at once, so that the same file can be chosen again once it is corrected. */
export interface FileFieldProps {
  label: string;
  /** Endings and types that the browser offers; all where none is named. */
  accept?: string;
  onFile: (file: File) => void;
}

export function FileField({ label, accept, onFile }: FileFieldProps) {
  return (
    <label className="load">
      {label}{' '}
      <input
        type="file"
        accept={accept}
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          event.currentTarget.value = '';
          if (file) onFile(file);
        }}
      />
    </label>
  );
}
